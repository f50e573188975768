/**
 * Histories that arrive in any order. `ANY_ORDER_RUNS` says how many are drawn (8), `SEED` draws the same again.
 * - With what was found stated station by station, nothing is refused and the end is the same.
 * - With what was found stated by function, the end is the same once what was refused is sent again.
 * - What was known at a settled time stays so, whatever arrives.
 * - Recorded at never runs backwards within a unit, with two services and a clock that stepped back an hour.
 */
import { setTimeout } from 'node:timers/promises';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, inspectionOf, openShops, registerControl, unitFor } from '../support/shop.ts';
import { withSuperuser } from '../support/test-server.ts';
import { root, twoRacers } from '../support/two-racers.ts';

const db = await testDatabase();
const service = await testService(db, { rememberTokens: true });
const shops = await openShops(service);
const { brackwater } = shops;
type Json = Awaited<ReturnType<Caller>>['body'];

const runs = Number(process.env['ANY_ORDER_RUNS'] ?? 8);
const seed = Number(process.env['SEED'] ?? Date.now() % 2 ** 31);
console.log(`any order: seed ${seed}, ${runs} runs`);
const drawn = { seed, numRuns: runs, endOnFailure: true };

type Fun = 'load-sense' | 'load-sense-bled';
type Found = 'stations' | 'function';
/** A history: each day a look or a conversion to the other function, by one of two distributors. */
type Step = { readonly what: 'look' | 'convert'; readonly shop: 'brackwater' | 'tollan' };
const steps = fc.array(
  fc.record<Step>({ what: fc.constantFrom('look', 'convert'), shop: fc.constantFrom('brackwater', 'tollan') }),
  { minLength: 2, maxLength: 5 },
);
const history = steps.chain((all) =>
  fc.record({
    all: fc.constant(all),
    order: fc.shuffledSubarray([...all.keys()], { minLength: all.length, maxLength: all.length }),
  }),
);

await registerControl(brackwater, 'model', 'load-sense-bled');
const frame = { reference: 'model', performedAt: '2026-04-01T08:00:00Z' };
const away = await conversionOf(brackwater, 'model', 'load-sense', frame);
await mustGoWell(brackwater('POST', '/v1/conversions', away));
const back = await conversionOf(brackwater, 'model', 'load-sense-bled', frame);
const seat = (fun: Fun) => ({ 'bleed-seat': [{ element: fun === 'load-sense' ? 'plug-m5' : 'orifice-0.6' }] });
const other = (fun: Fun): Fun => (fun === 'load-sense' ? 'load-sense-bled' : 'load-sense');
const foundAs = (fun: Fun, how: Found) =>
  how === 'function' ? { function: fun } : { stations: seat(fun), function: fun };

/** The bodies that a bench that worked truthfully would send, in the order of the work. */
function recordsOf(number: string, all: readonly Step[], how: Found) {
  let fun: Fun = 'load-sense-bled';
  return all.map(({ what, shop }, nth) => {
    const named = { reference: `${number}-${nth}`, performedAt: `2026-05-0${nth + 1}T08:00:00Z` };
    const found = foundAs(fun, how);
    if (what === 'look') return { shop, path: '/v1/inspections', body: { ...inspectionOf(number, named), found } };
    const { sheet: _, ...work } = fun === 'load-sense-bled' ? away : back;
    fun = other(fun);
    const control = { maker: 'ardenholm', serial: `K-${number}` };
    return { shop, path: '/v1/conversions', body: { ...work, ...named, control, found } };
  });
}

let controls = 0;
/** Sends these records in an order, what is refused again and again until it is taken. */
async function send(all: readonly Step[], order: readonly number[], how: Found) {
  controls += 1;
  const number = `any-${controls}`;
  await registerControl(brackwater, number, 'load-sense-bled');
  const records = recordsOf(number, all, how);
  const references = new Map<string, number>();
  let waiting = [...order];
  let refused = 0;
  while (waiting.length > 0) {
    const left: number[] = [];
    for (const nth of waiting) {
      const record = records[nth];
      if (record === undefined) throw new Error('there is no such step');
      const answer = await shops[record.shop]('POST', record.path, record.body);
      if (answer.status === 201) references.set(answer.body.id, nth);
      else if (answer.status === 409) left.push(nth);
      else throw new Error(`${answer.status} ${answer.text}`);
    }
    if (left.length === waiting.length)
      throw new Error(`nothing more is taken: ${JSON.stringify({ all, order, left })}`);
    refused += left.length;
    waiting = left;
  }
  return { number, refused, state: stateOf(await unitFor(brackwater, 'control', number), references) };
}

/** Without ids: records by their place in the order of the work. */
function stateOf(unit: Json, references: ReadonlyMap<string, number>) {
  const nth = (record: string) => references.get(record) ?? 'registration';
  const fit = Object.entries(unit.fit as Record<string, { record: string }>).map(([station, content]) => [
    station,
    { ...content, record: nth(content.record) },
  ]);
  const findings = unit.findings.map((one: Json) => `${nth(one.fact)} ${one.rule} ${one.pointer}`).sort();
  return { function: unit.function, status: unit.status, fit: Object.fromEntries(fit), findings };
}

const inOrder = (all: readonly Step[]) => [...all.keys()];

describe('a truthful history, in whatever order it arrives', () => {
  it('is taken whole and ends the same, where what was found is stated', async () => {
    await fc.assert(
      fc.asyncProperty(history, async ({ all, order }) => {
        const straight = await send(all, inOrder(all), 'stations');
        const mixed = await send(all, order, 'stations');
        expect(mixed.refused).toBe(0);
        expect(mixed.state).toEqual(straight.state);
        expect(straight.state.findings.filter((one: string) => one.includes('unrecorded-work'))).toEqual([]);
      }),
      drawn,
    );
  }, 600_000);

  it('ends the same where it is found by function, once what was refused is sent again', async () => {
    await fc.assert(
      fc.asyncProperty(history, async ({ all, order }) => {
        const straight = await send(all, inOrder(all), 'function');
        expect(straight.refused).toBe(0);
        expect((await send(all, order, 'function')).state).toEqual(straight.state);
      }),
      drawn,
    );
  }, 600_000);
});

type Subject = {
  readonly number: string;
  readonly ids: readonly string[];
  readonly all: readonly string[];
  readonly rest: readonly number[];
  readonly post: (nth: number) => Promise<void>;
};

it('what was known at a settled time stays so, whatever arrives', async () => {
  const drawnNow = fc.sample(fc.record({ history, part: fc.nat(4) }), { seed, numRuns: runs });
  const units: Subject[] = [];
  for (const { history: one, part } of drawnNow) {
    controls += 1;
    const number = `any-${controls}`;
    await registerControl(brackwater, number, 'load-sense-bled');
    const records = recordsOf(number, one.all, 'stations');
    const ids: string[] = [];
    const post = async (nth: number) => {
      const { shop, path, body } = records[nth] ?? {};
      if (shop === undefined || path === undefined) throw new Error('there is no such step');
      const { id } = (await mustGoWell(shops[shop]('POST', path, body))).body;
      if (shop === 'brackwater') ids.push(id);
    };
    for (const nth of one.order.slice(0, part)) await post(nth);
    units.push({ number, ids: [...ids], rest: one.order.slice(part), post, all: ids });
  }
  const known = new Date().toISOString();
  await setTimeout(6_500);
  const ask = async () => {
    const answers: Json[] = [];
    for (const { number, ids } of units) {
      const control = `/v1/controls/ardenholm/K-${number}`;
      const paths = [control, `${control}/history`, ...ids.map((id) => `/v1/records/${id}`)];
      for (const path of paths) {
        for (const performed of path.startsWith('/v1/records') ? [''] : ['', '&performed=2026-05-03T12:00:00Z']) {
          const { horizon: _, ...answer } = (await mustGoWell(brackwater('GET', `${path}?known=${known}${performed}`)))
            .body;
          answers.push(answer);
        }
      }
    }
    return answers;
  };
  const before = await ask();
  for (const { rest, post, all } of units) {
    for (const nth of rest) await post(nth);
    const [first] = all;
    if (first === undefined) continue;
    await mustGoWell(brackwater('POST', `/v1/records/${first}/corrections`, { kind: 'void', reason: 'another unit' }));
  }
  expect(await ask()).toEqual(before);
}, 600_000);

it('recorded at never runs backwards within a unit, with two services and a clock that stepped back', async () => {
  await registerControl(brackwater, 'clock', 'load-sense-bled');
  const [first] = recordsOf('clock', [{ what: 'convert', shop: 'brackwater' }], 'stations');
  const { id } = (await mustGoWell(brackwater('POST', '/v1/conversions', first?.body))).body;
  // What a clock that was an hour ahead would have left behind.
  await withSuperuser(db.superuserUrl, async (client) => {
    await client.query(
      `update unit_heads set recorded_at = recorded_at + interval '1 hour'
       where unit_id in (select unit_id from unit_events where fact = $1)`,
      [id],
    );
  });
  const race = await twoRacers(root, db);
  let kept = 0;
  for (let round = 0; round < 5; round++) {
    const bodies = [0, 1].map((by) => ({
      ...{ ...first?.body, reference: `clock-${round}-${by}`, performedAt: `2026-06-0${round + 1}T08:00:00Z` },
      found: { stations: seat('load-sense-bled') },
    }));
    kept += (await race(bodies)).filter(({ status }) => status === 201).length;
  }
  expect(kept).toBeGreaterThan(5);
  const recorded = await withSuperuser(db.superuserUrl, async (client) => {
    const { rows } = await client.query<{ at: string }>(
      `select to_char(recorded_at at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US') as at from unit_events
       where unit_id in (select unit_id from unit_events where fact = $1) order by seq`,
      [id],
    );
    return rows.map(({ at }) => at);
  });
  expect(recorded).toEqual([...new Set(recorded)].sort());
  expect(Date.parse(`${recorded.at(-1)}Z`)).toBeGreaterThan(Date.now() + 3_000_000);
}, 120_000);
