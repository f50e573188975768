/** What was held, due and overdue as it was known at a time: the same for ever, whatever arrives since. Invented throughout. */
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { ask } from '../graphql/ask.ts';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, inspectionOf, onControl, onPump, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
const lead = await service.as({ distributor: 'brackwater', subject: 'lead' });
type Json = Awaited<ReturnType<Caller>>['body'];

const get = async (path: string, caller = brackwater): Promise<Json> => (await mustGoWell(caller('GET', path))).body;
let count = 0;
/** Held by a torque that is too low, and with a check that is still to come. */
async function heldUnit(number: string): Promise<string> {
  await registerPair(brackwater, number);
  const frame = { reference: `c-${number}`, performedAt: '2026-04-10T08:00:00Z' };
  const body = (await conversionOf(brackwater, number, 'load-sense', frame)) as Json;
  const torques = body['torques'].map((one: Json) =>
    one['joint'] === 'sense-adjuster-body' ? { ...one, reading: { value: '40', unit: 'N.m' } } : one,
  );
  const checks = body['checks'].filter((one: Json) => one['check'] !== 'leak-free');
  return (await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, torques, checks }))).body.id;
}
const decide = async (record: string, more: object) =>
  await mustGoWell(
    lead('POST', `/v1/records/${record}/dispositions`, {
      ...{ reference: `d-${++count}`, performedAt: '2026-04-12T08:00:00Z', reason: 'tested', decision: 'concession' },
      ...more,
    }),
  );
const calibrate = async (instrument: string, performedAt: string, due: string) =>
  await mustGoWell(
    brackwater('POST', `/v1/instruments/${instrument}/calibrations`, {
      ...{ reference: `cal-${++count}`, performedAt, due, document: 'declaration' },
    }),
  );

const records: Record<string, string> = {};
for (const number of ['1', '2', '3', '4', '5', '6']) records[number] = await heldUnit(number);
const limits = [{ text: 'only on the stand' }];
await decide(records['5'] as string, { limits, expires: '2050-01-01T00:00:00Z' });
await mustGoWell(brackwater('PUT', '/v1/instruments/tw-9', { kind: 'torque-wrench', how: 'set', shop: 'north' }));
await calibrate('tw-3', '2026-04-01T08:00:00Z', '2027-04-01T00:00:00Z');
const first = (await get('/v1/instruments/tw-3')).events[0].record;

/** A time that is settled: what is recorded up to now is known then, and nothing after it. */
async function settled(): Promise<string> {
  const at = new Date().toISOString();
  for (let horizon = ''; horizon < at; await setTimeout(200))
    ({ horizon } = await get('/v1/held?known=2999-01-01T00:00:00Z'));
  return at;
}

const asked = ['held?', 'held/counts?', 'due?', 'due/counts?', 'due?handedOver=true', 'due?overdue=true'];
const more = ['held?days=30', 'due?shop=north&rule=check-due', 'calibrations?within=3660'];
more.push('reach?lot=ardenholm/L-1', 'reach?shop=north&from=2026-04-01T00:00:00Z', 'reach?instrument=tw-3');
more.push('reach?element=plug-m5', 'reach?element=orifice-0.6', 'reach?element=orifice-0.6&to=2026-04-02T00:00:00Z');
const without = ({ horizon: _, known: __, settled: ___, ...answer }: Json) => answer;
/** One after the other: many at once may find no connection free on a machine that is busy. */
async function answers(known: string | null): Promise<Json[]> {
  const found: Json[] = [];
  for (const path of [...asked, ...more]) {
    const page = path.includes('counts') ? '' : '&first=200';
    found.push(without(await get(`/v1/${path}${page}${known === null ? '' : `&known=${known}`}`)));
  }
  return found;
}

const live = await answers(null);
const known = await settled();
const then = await answers(known);

/** What comes later, one after the other. */
const later: readonly (readonly [string, () => Promise<unknown>])[] = [
  [
    'a late record',
    async () =>
      await mustGoWell(
        brackwater(
          'POST',
          '/v1/inspections',
          inspectionOf('1', { reference: 'late', performedAt: '2026-04-05T08:00:00Z' }),
        ),
      ),
  ],
  [
    'work that clears a hold',
    async () => {
      const frame = { reference: 'a-2', performedAt: '2026-04-13T08:00:00Z', edition: '2026-1', shop: 'north' };
      const torques = [
        { joint: 'sense-adjuster-body', how: 'set', reading: { value: '61', unit: 'N.m' }, instrument: 'tw-3' },
      ];
      const checks = [{ check: 'leak-free', result: 'passed' }];
      const body = { ...onControl('2'), ...frame, technician: 't-17', torques, checks };
      await mustGoWell(brackwater('POST', '/v1/adjustments', body));
    },
  ],
  [
    'a record made void',
    async () => {
      const undone = { kind: 'void', reason: 'another control' };
      await mustGoWell(brackwater('POST', `/v1/records/${records['3']}/corrections`, undone));
    },
  ],
  ['a concession', async () => await decide(records['4'] as string, {})],
  ['rework, which takes a concession back', async () => await decide(records['5'] as string, { decision: 'rework' })],
  [
    'a due that is handed over',
    async () =>
      await mustGoWell(
        brackwater('POST', '/v1/movements', {
          ...{
            ...onPump('6'),
            what: 'delivered',
            reference: 'away',
            performedAt: '2026-04-14T08:00:00Z',
            shop: 'north',
          },
          ...{ technician: 't-17', to: 'Harbour Works' },
          handedOver: { acceptedBy: 'plant engineer', dues: [{ check: 'leak-free' }] },
        }),
      ),
  ],
  ['another unit that is held', async () => await heldUnit('7')],
  ['a calibration', async () => await calibrate('tw-9', '2026-04-01T08:00:00Z', '2027-04-01T00:00:00Z')],
  [
    'an incident of an instrument',
    async () =>
      await mustGoWell(
        brackwater('POST', '/v1/instruments/pg-1/incidents', {
          ...{ reference: 'dropped', performedAt: '2026-04-02T08:00:00Z', what: 'dropped' },
        }),
      ),
  ],
  [
    'a calibration that is made void',
    async () =>
      await mustGoWell(
        brackwater('POST', '/v1/instruments/tw-3/voids', { record: first, reason: 'of another wrench' }),
      ),
  ],
  [
    'an instrument that is stated anew',
    async () => await mustGoWell(brackwater('PUT', '/v1/instruments/tw-9', { kind: 'gauge', shop: 'north' })),
  ],
  [
    'work of another distributor on the same unit',
    async () => {
      const look = inspectionOf('1', { reference: 'theirs', performedAt: '2026-04-20T08:00:00Z' });
      await mustGoWell(tollan('POST', '/v1/inspections', look));
    },
  ],
];

/** These open and clear nothing. */
const changesNothing = ['a late record', 'work of another distributor on the same unit'];

describe('as known at a time', () => {
  it('is what was told then', () => {
    expect(then).toEqual(live);
    expect(then[0].items.length).toBe(5);
    expect(then[2].items.length).toBe(6);
    expect(then[8].items.length).toBeGreaterThan(0);
  });

  it.each(later)('is the same after %s', async (what, arrives) => {
    const before = await answers(null);
    await arrives();
    expect(await answers(known)).toEqual(then);
    if (!changesNothing.includes(what)) expect(await answers(null)).not.toEqual(before);
  });

  it('is told alike by GraphQL', async () => {
    const finding = 'unit { name } finding { rule record { id } } dueBy overdue';
    const graph: Json = await ask(
      brackwater,
      `query ($known: Instant) {
        held(first: 100, known: $known) { edges { node { ${finding} } } }
        due(first: 100, known: $known) { edges { node { ${finding} } } }
        heldCounts(known: $known) { edges { node { shop rule findings } } }
        dueCounts(known: $known) { edges { node { shop rule findings overdue } } } }`,
      { known },
    );
    const nodes = (list: string): Json[] => graph[list].edges.map(({ node }: Json) => node);
    const told = async (list: string): Promise<Json> => await get(`/v1/${list}first=200&known=${known}`);
    for (const list of ['held', 'due'] as const) {
      const items: Json[] = (await told(`${list}?`)).items;
      expect(items.length).toBeGreaterThan(2);
      expect(nodes(list)).toEqual(
        items.map(({ unit, rule, record, dueBy = null, overdue = null }) => ({
          ...{ unit: { name: unit.name }, finding: { rule, record: { id: record } }, dueBy, overdue },
        })),
      );
      const { counts }: Json = await get(`/v1/${list}/counts?known=${known}`);
      expect(nodes(`${list}Counts`)).toMatchObject(
        counts.map(({ shop, rule, findings }: Json) => ({ shop, rule, findings })),
      );
    }
    const { errors } = (
      await analyst('POST', '/graphql', { query: `{ held(known: "${known}") { edges { cursor } } }` })
    ).body;
    expect(errors[0].extensions.code).toBe('forbidden');
  });

  it('says until when it is settled, and is for the distributor alone', async () => {
    for (const path of ['held', 'held/counts', 'due', 'due/counts', 'calibrations']) {
      expect(await get(`/v1/${path}?known=${known}`)).toMatchObject({ settled: true });
      expect((await analyst('GET', `/v1/${path}?known=${known}`)).status).toBe(403);
    }
    const later = await get('/v1/held?known=2999-01-01T00:00:00Z');
    expect(later.known).toBe(later.horizon);
    expect((await tollan('GET', `/v1/held?known=${known}`)).body.items).toEqual([]);
    expect((await get('/v1/held?known=2020-01-01T00:00:00Z')).items).toEqual([]);
  });
});
