/** What is held and due, by GraphQL and by REST: the same filter, the same answer. */
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, inspectionOf, onPump, openShops, registerPair } from '../support/shop.ts';
import { ask, askBadly, type Data } from './ask.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
const daysAgo = (days: number) => new Date(Date.now() - days * 86_400_000).toISOString();
const splitAt = daysAgo(40);

beforeAll(async () => {
  await mustGoWell(brackwater('PUT', '/v1/shops/south', { name: 'south yard' }));
  for (const [number, days, shop] of [
    ['1', 100, 'north'],
    ['2', 50, 'south'],
    ['3', 5, 'north'],
  ] as const) {
    await registerPair(brackwater, number);
    const frame = { reference: `c-${number}`, performedAt: daysAgo(days) };
    const body: Data = await conversionOf(brackwater, number, 'load-sense', frame);
    const [torque, ...torques] = body.torques;
    const loose = [{ ...torque, reading: { value: '1.5', unit: 'N.m' } }, ...torques];
    const checks = body.checks.filter((one: Data) => one.check !== 'leak-free');
    const settings = body.settings.filter((one: Data) => number !== '1' || one.setting !== 'differential');
    await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, shop, checks, settings, torques: loose }));
  }
  const look = inspectionOf('3', { reference: 'look', performedAt: daysAgo(2) });
  await mustGoWell(brackwater('POST', '/v1/inspections', { ...look, technician: { unknown: 'not written down' } }));
  await mustGoWell(
    brackwater('POST', '/v1/movements', {
      ...{ ...onPump('1'), what: 'delivered', reference: 'away', performedAt: daysAgo(90), shop: 'north' },
      ...{ technician: 't-17', to: 'Harbour Works' },
      handedOver: { acceptedBy: 'plant engineer', dues: [{ check: 'leak-free' }] },
    }),
  );
});

const query = (held: boolean) => `
  query ($rule: String, $shop: String, $filter: ${held ? 'HeldFilter' : 'DueFilter'}, $first: Int! = 100, $after: String) {
    list: ${held ? 'held' : 'due'}(rule: $rule, shop: $shop, filter: $filter, first: $first, after: $after) {
      edges { cursor node { unit { id } dueBy overdue finding { rule severity pointer record { id } handedOver { id } } } }
      pageInfo { endCursor hasNextPage } }
    counts: ${held ? 'heldCounts' : 'dueCounts'}(rule: $rule, shop: $shop, filter: $filter, first: 100) {
      edges { node { shop rule fromDays toDays findings units overdue } } } }`;

const byGraphql = async (path: 'held' | 'due', variables: object) => {
  const { list, counts } = await ask(brackwater, query(path === 'held'), variables);
  return {
    items: list.edges.map(({ cursor, node: { unit, finding, dueBy, overdue } }: Data) => ({
      ...{ id: cursor, unit: unit.id, rule: finding.rule, severity: finding.severity, pointer: finding.pointer },
      ...{ record: finding.record.id, handedOver: finding.handedOver?.id ?? null, dueBy, overdue },
    })),
    counts: counts.edges.map(({ node }: Data) => node),
  };
};

const byRest = async (path: 'held' | 'due', asked: Record<string, string>) => {
  const parameters = new URLSearchParams(asked).toString();
  const { items } = (await mustGoWell(brackwater('GET', `/v1/${path}?first=200&${parameters}`))).body;
  const { counts } = (await mustGoWell(brackwater('GET', `/v1/${path}/counts?${parameters}`))).body;
  return {
    items: items.map(({ id, unit, rule, severity, pointer, record, handedOver, dueBy, overdue }: Data) => ({
      ...{ id, unit: unit.unit, rule, severity, pointer, record, handedOver: handedOver ?? null },
      ...{ dueBy: dueBy ?? null, overdue: overdue ?? null },
    })),
    counts: counts.map(({ days, overdue, ...one }: Data) => ({
      ...{ ...one, fromDays: days.from, toDays: days.to, overdue: overdue ?? null },
    })),
  };
};

const both: readonly (readonly [Record<string, string>, object])[] = [
  [{}, {}],
  [{}, { filter: null, rule: null, shop: null }],
  [{ shop: 'south' }, { shop: 'south' }],
  [{ kind: 'inspection' }, { filter: { kind: 'inspection' } }],
  [
    { kind: 'conversion', shop: 'north' },
    { shop: 'north', filter: { kind: 'conversion' } },
  ],
  [{ days: '30' }, { filter: { days: 30 } }],
  [{ from: splitAt }, { filter: { performedFrom: splitAt } }],
  [
    { to: splitAt, shop: 'north' },
    { filter: { performedTo: splitAt }, shop: 'north' },
  ],
];
const heldAlone: typeof both = [[{ rule: 'torque-outside' }, { rule: 'torque-outside' }]];
const dueAlone: typeof both = [
  [{ rule: 'check-due' }, { rule: 'check-due' }],
  [{ handedOver: 'true' }, { filter: { handedOver: true } }],
  [{ overdue: 'true' }, { filter: { overdue: true } }],
  [{ overdue: 'false' }, { filter: { overdue: false } }],
  [{ overdue: 'true', overdueAfter: 'P1D' }, { filter: { overdue: true, overdueAfter: 'P1D' } }],
];

describe('what GraphQL tells of what is held and due', () => {
  it.each([
    ...[...both, ...heldAlone].map((one) => ['held', ...one] as const),
    ...[...both.filter(([asked]) => asked['kind'] !== 'inspection'), ...dueAlone].map(
      (one) => ['due', ...one] as const,
    ),
  ])('is what GET /v1/%s tells, asked for %j', async (path, asked, variables) => {
    const found = await byGraphql(path, variables);
    expect(found).toEqual(await byRest(path, asked));
    expect(found.items.length).toBeGreaterThan(0);
    expect(found.items.length).toBe(found.counts.reduce((sum: number, one: Data) => sum + one.findings, 0));
    const all = await byGraphql(path, {});
    const narrows = Object.keys(asked).length > 0;
    if (narrows) expect(found.items).not.toEqual(all.items);
  });

  it.each([
    ['days', { days: -1 }],
    ['days', { days: 36_501 }],
    ['overdueAfter', { overdueAfter: 'a month' }],
    ['performedFrom', { performedFrom: 'yesterday' }],
  ])('is refused with the place where %s is none', async (name, filter) => {
    const { errors } = await askBadly(brackwater, query(false), { filter });
    expect(errors[0].extensions.code).toBe('invalid-input');
    expect(JSON.stringify(errors)).toContain(name);
  });
});
