/** What was known when, on every read that takes it: the same question has the same answer, whatever arrives since. */
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, inspectionOf, intakeOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
type Json = Awaited<ReturnType<Caller>>['body'];

let count = 0;
const get = async (path: string, shop = brackwater): Promise<Json> => (await mustGoWell(shop('GET', path))).body;
const look = async (number: string, date: string, element: string): Promise<Json> => {
  const frame = { reference: `R-${++count}`, performedAt: `2026-${date}T08:00:00Z` };
  const found = { stations: { 'bleed-seat': [{ element }] } };
  return (await mustGoWell(brackwater('POST', '/v1/inspections', { ...inspectionOf(number, frame), found }))).body;
};
/** A time that is settled: what is recorded up to now is known then, and nothing after it. */
async function settled(): Promise<string> {
  const { horizon: now } = await get('/v1/controls/ardenholm/K-known/history?known=2999-01-01T00:00:00Z');
  const then = new Date().toISOString();
  for (let horizon = now; horizon < then; ) {
    await setTimeout(200);
    horizon = (await get('/v1/controls/ardenholm/K-known/history?known=2999-01-01T00:00:00Z')).horizon;
  }
  return then;
}
const without = ({ horizon: _, ...answer }: Json) => answer;

await registerPair(brackwater, 'known');
await registerPair(brackwater, 'other');
await mustGoWell(brackwater('POST', '/v1/lots/ardenholm/L-1/intakes', intakeOf('first', 100)));
const work = await conversionOf(brackwater, 'other', 'load-sense', {
  reference: 'w',
  performedAt: '2026-05-10T08:00:00Z',
});
const { body: converted } = await mustGoWell(brackwater('POST', '/v1/conversions', work));
const june = await look('known', '06-01', 'orifice-0.6');
const then = await settled();
const paths = [
  `/v1/controls/ardenholm/K-known?known=${then}`,
  `/v1/pumps/ardenholm/P-known?performed=2026-06-02T00:00:00Z&known=${then}`,
  `/v1/records/${june.id}?known=${then}`,
  `/v1/lots/ardenholm/L-1?known=${then}`,
  `/v1/lots/ardenholm/L-1?known=${then}&performed=2026-05-05T00:00:00Z`,
  `/v1/stock?shop=north&known=${then}`,
  `/v1/instruments/tw-3?known=${then}`,
];
const before = await Promise.all(paths.map(async (path) => without(await get(path))));
const late = await look('known', '05-01', 'plug-m5');
await mustGoWell(brackwater('POST', `/v1/records/${june.id}/corrections`, { kind: 'void', reason: 'not this one' }));

await mustGoWell(
  brackwater('PUT', '/v1/lots/ardenholm/L-1', {
    part: 'bought-loose',
    withdrawn: { from: '2026-01-01T00:00:00Z', why: 'cracks' },
  }),
);
await mustGoWell(
  brackwater('POST', '/v1/lots/ardenholm/L-1/intakes', {
    ...intakeOf('second', 7),
    performedAt: '2026-05-02T08:00:00Z',
  }),
);
await mustGoWell(brackwater('PUT', '/v1/lots/ardenholm/L-new', { part: 'bought-loose' }));
await mustGoWell(brackwater('POST', `/v1/records/${converted.id}/corrections`, { kind: 'void', reason: 'not done' }));
await mustGoWell(brackwater('PUT', '/v1/instruments/tw-3', { kind: 'torque-wrench', how: 'set', shop: 'north' }));
const incident = { reference: 'fell', performedAt: '2026-05-03T08:00:00Z', what: 'dropped' };
await mustGoWell(brackwater('POST', '/v1/instruments/tw-3/incidents', incident));

describe('what was known at a settled time', () => {
  it('is told the same after late records, judgements and corrections', async () => {
    for (const [at, path] of paths.entries()) expect(without(await get(path)), path).toEqual(before[at]);
    expect(before[0]).toMatchObject({
      settled: true,
      known: then.replace('Z', '000Z'),
      control: { status: 'released' },
    });
    expect(before[1]).toMatchObject({ settled: true, performed: '2026-06-02T00:00:00.000000Z' });
    expect(before[2]).toMatchObject({ settled: true, status: 'released', correctedBy: null, judgedAgain: [] });
  });

  it('differs from what is known now', async () => {
    expect((await get('/v1/controls/ardenholm/K-known')).control.status).toBe('held');
    const record = await get(`/v1/records/${june.id}`);
    expect(record.correctedBy).not.toBe(null);
    expect(record.judgedAgain).toHaveLength(1);
    expect(record).not.toHaveProperty('settled');
    const judged = await get(`/v1/judgements?cause=${late.id}`);
    expect(judged.items).toHaveLength(1);
    expect(await get(`/v1/judgements?cause=${late.id}&known=${then}`)).toMatchObject({ items: [], settled: true });
  });

  it('of a lot and an instrument is what had come in, gone out and been found by then', async () => {
    const [, , , lot, sooner, , wrench] = before;
    const used = (answer: Json) => answer.shops[0].items.reduce((sum: number, one: Json) => sum + one.used, 0);
    expect(used(lot)).toBeGreaterThan(0);
    expect([lot.withdrawn, lot.shops[0].items[0].takenIn, sooner.shops[0].items[0].takenIn]).toEqual([null, 100, 100]);
    expect(used(sooner)).toBe(0);
    expect([wrench.version, wrench.suspect, wrench.events]).toEqual([1, null, []]);
    const now = await get('/v1/lots/ardenholm/L-1');
    expect([now.withdrawn.why, now.shops[0].items[0].takenIn, used(now)]).toEqual(['cracks', 107, 0]);
    expect((await get('/v1/instruments/tw-3')).suspect).not.toBe(null);
    expect((await brackwater('GET', `/v1/lots/ardenholm/L-new?known=${then}`)).status).toBe(404);
  });

  it('has no record that came later', async () => {
    expect((await brackwater('GET', `/v1/records/${late.id}?known=${then}`)).status).toBe(404);
    expect((await tollan('GET', `/v1/records/${june.id}?known=${then}`)).status).toBe(404);
    expect((await get(`/v1/records/${june.id}?known=${then}`, analyst)).status).toBe('released');
  });

  it('beyond the horizon is answered at the horizon, and says so', async () => {
    for (const path of [`/v1/records/${june.id}`, '/v1/controls/ardenholm/K-known']) {
      const answer = await get(`${path}?known=2999-01-01T00:00:00Z`);
      expect(answer).toMatchObject({ settled: true, known: answer.horizon });
    }
  });
});

describe('a unit at a past time', () => {
  it('comes with what was mounted then, and is for those who have recorded on it', async () => {
    const { pump, control } = await get('/v1/pumps/ardenholm/P-known?performed=2026-04-01T00:00:00Z');
    expect([pump.mounted.name, control.name, control.function]).toEqual(['K-known', 'K-known', 'load-sense-bled']);
    const answer = await tollan('GET', '/v1/pumps/ardenholm/P-known?performed=2026-04-01T00:00:00Z');
    expect(answer.body.code).toBe('history-restricted');
  });
});
