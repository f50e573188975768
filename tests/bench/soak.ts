/**
 * `npm run -s soak [-- --minutes 60] [--rate 15] [--records 20000]`: conversions at so many a second, and after each of
 * them a reading of the same history, for so long; and what the service's process holds after each minute. Ends with 1 where that grows.
 */
import { parseArgs } from 'node:util';
import { megabytes, rssOf } from '../support/memory.ts';
import { maker } from '../support/shop.ts';
import { openGround } from './ground/ground.ts';
import { firstDistributor } from './ground/stage.ts';
import { flatnessOf } from './harness/flatness.ts';
import type { HttpRequest } from './load/http-load.ts';
import { lotReach } from './rows/reading/lot-reach.ts';
import { unitHistory } from './rows/reading/unit-history.ts';

const { values } = parseArgs({
  options: {
    minutes: { type: 'string', default: '60' },
    rate: { type: 'string', default: '15' },
    records: { type: 'string', default: '20000' },
  },
});
const [minutes, rate, records] = [Number(values.minutes), Number(values.rate), Number(values.records)];
if (!(minutes >= 8 && rate > 0)) throw new RangeError('--minutes is at least 8, --rate above 0');
const tell = (line: string) => console.error(line);
const ground = openGround({ records, seed: 1, quick: false }, tell);
try {
  const [stage, conversions] = [await ground.stage(), await ground.conversions()];
  const writers = conversions.connections('many');
  const serials = await unitHistory.names(stage);
  const token = { shop: await stage.tokenOf({ distributor: firstDistributor }), analyst: await stage.tokenOf('maker') };
  const get = (path: string, who: keyof typeof token = 'shop', accept = 'application/json'): HttpRequest => ({
    ...{ method: 'GET', path, body: null },
    headers: { authorization: `Bearer ${token[who]}`, accept },
  });
  /** By turns; each names the unit that it is about. */
  const readings: readonly ((serial: string) => HttpRequest)[] = [
    (serial) => ({
      ...unitHistory.ours(serial),
      headers: { authorization: `Bearer ${token.shop}`, 'content-type': 'application/json' },
    }),
    (serial) => get(`/v1/controls/${maker}/${serial}/history`),
    (serial) => get(`/v1/controls/${maker}/${serial}/trace?performed=2026-11-20T00:00:00Z`, 'analyst'),
    (serial) => get(`/v1/controls/${maker}/${serial}/job-sheet?function=load-sense`),
    (serial) => get(`/v1/controls/${maker}/${serial}/trace?performed=2026-11-20T00:00:00Z`, 'analyst', 'text/html'),
    () => get('/v1/held?first=50'),
    () => get('/v1/claims?first=50', 'analyst'),
    () => get('/v1/stock?shop=north&first=50'),
    () => get('/v1/reach?element=orifice-0.6&first=50', 'analyst'),
    () => get(lotReach.ours('L-001-01').path, 'shop', 'application/x-ndjson'),
  ];
  /** Connections that begin at the same moment ask for different things. */
  const reading = (nth: number): HttpRequest => {
    const make = readings[nth % readings.length];
    if (make === undefined) throw new Error('nothing is read');
    return make(serials[nth % serials.length] ?? '');
  };
  const samples: number[] = [await rssOf(stage.pid)];
  let done = 0;
  const begun = performance.now();
  while (performance.now() - begun < minutes * 60_000) {
    const each = Math.ceil((rate * 60) / writers.length);
    const lists = conversions
      .lists(writers, each)
      .map((list, connection) => list.flatMap((one, at) => [one, reading(done + connection + at)]));
    await ground.load({ kind: 'http', base: stage.base, rate: 2 * rate, lists });
    done += writers.length * each;
    samples.push(await rssOf(stage.pid));
    const passed = ((performance.now() - begun) / 60_000).toFixed(1);
    tell(`${passed} min, ${done} recorded, as many answers read, rss ${megabytes(samples.at(-1) ?? 0)}`);
  }
  // The rest of an export is read as it is sent: no more of it is held than of a page.
  await ground.load({
    kind: 'http',
    base: stage.base,
    rate: null,
    lists: [[get('/v1/export/records', 'shop', 'application/x-ndjson')]],
  });
  const afterExport = await rssOf(stage.pid);
  const { early, late, ratio, flat } = flatnessOf(samples);
  console.log(`${minutes} minutes, ${done} recorded, as many answers read, what found it busy repeated`);
  console.log(
    `rss of the service: start ${megabytes(samples[0] ?? 0)}, second quarter ${megabytes(early)}, last quarter ${megabytes(late)}, ratio ${ratio.toFixed(2)}, most ${megabytes(Math.max(...samples))}, after an export of all ${megabytes(afterExport)}: ${flat ? 'flat' : 'it grows'}`,
  );
  if (!flat) process.exitCode = 1;
} finally {
  await ground.close();
}
