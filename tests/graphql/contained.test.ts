/** What is contained, by GraphQL, held against what REST tells of each containment. */
import { beforeAll, describe, expect, it } from 'vitest';
import { settleAll } from '../../src/app/containing/contain.ts';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, maker, openShops, registerPair } from '../support/shop.ts';
import { ask, askBadly, type Data } from './ask.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const analyst = await service.as({ maker, scopes: ['warranty:read', 'containment:write'] });

const convert = async (shop: Caller, number: string, lot: string, at = 'north') => {
  await registerPair(shop, number);
  const frame = { reference: `c-${number}`, performedAt: '2026-04-01T08:00:00Z' };
  const record: Data = await conversionOf(shop, number, 'load-sense', frame);
  const fitted = record.fitted.map((one: object) => ({ ...one, lot }));
  await mustGoWell(shop('POST', '/v1/conversions', { ...record, fitted, shop: at }));
};
let said = 0;
const contain = async (caller: Caller, criteria: object, more: object): Promise<string> => {
  const body = { reference: `recall-${said++}`, criteria, reason: 'bores out of round', instruction: 'take it out' };
  return (await mustGoWell(caller('POST', '/v1/containments', { severity: 'stop', ...body, ...more }))).body.id;
};
const ids: Record<string, string> = {};

beforeAll(async () => {
  await mustGoWell(brackwater('PUT', '/v1/shops/south', { name: 'south yard' }));
  for (const shop of [brackwater, tollan])
    for (const lot of ['BAD', 'GOOD']) await mustGoWell(shop('PUT', `/v1/lots/${maker}/${lot}`, { part: 'kit-sense' }));
  await convert(brackwater, 'a', 'BAD');
  await convert(brackwater, 'b', 'BAD', 'south');
  await convert(brackwater, 'c', 'GOOD');
  await convert(tollan, 't', 'BAD');
  ids['bad'] = await contain(analyst, { lot: `${maker}/BAD` }, { dueWithin: 'P30D' });
  ids['good'] = await contain(analyst, { lot: `${maker}/GOOD` }, { severity: 'inform', dueWithin: 'P0D' });
  ids['own'] = await contain(brackwater, { lot: `${maker}/GOOD` }, { severity: 'inspect' });
  ids['over'] = await contain(analyst, { lot: `${maker}/BAD` }, { severity: 'inform' });
  await convert(brackwater, 'late', 'BAD');
  await mustGoWell(analyst('POST', `/v1/containments/${ids['over']}/lift`, { reference: 'lift', reason: 'no more' }));
  await settleAll(service.app);
  const { items } = (await mustGoWell(brackwater('GET', `/v1/containments/${ids['bad']}/reach`))).body;
  for (const [name, step] of [
    ['K-a', 'cleared'],
    ['K-b', 'secured'],
  ]) {
    const { unit } = items.find((one: Data) => one.name === name);
    const told = { reference: `told-${name}`, unit, step, by: 'A. Example' };
    await mustGoWell(brackwater('POST', `/v1/containments/${ids['bad']}/progress`, told));
  }
});

/** By REST: each containment that is not lifted, its units, and where the record was made that each was reached by. */
async function listed(caller: Caller): Promise<Data[]> {
  const { items } = (await mustGoWell(caller('GET', '/v1/containments?first=200'))).body;
  const active: Data[] = items.filter((one: Data) => one.lifted === null);
  const units = await Promise.all(
    active.map(async ({ containment, severity }) => {
      const reach = (await mustGoWell(caller('GET', `/v1/containments/${containment}/reach?first=200`))).body.items;
      return await Promise.all(
        reach.map(async (one: Data) => {
          const id = one.added?.record ?? one.records[0]?.id ?? null;
          const record = id === null ? null : (await caller('GET', `/v1/records/${id}`)).body;
          return {
            ...{ containment: { id: containment, severity }, unit: { id: one.unit }, record: record && { id } },
            ...{ shop: record?.statement.shop ?? null, atIssue: one.atIssue, addedAt: one.added?.recordedAt ?? null },
            ...{ step: one.progress?.step ?? null, toldAt: one.progress?.recordedAt ?? null },
            ...{ done: one.done, dueBy: one.dueBy, overdue: one.overdue },
          };
        }),
      );
    }),
  );
  return units.flat();
}

const query = `query ($filter: ContainedFilter, $first: Int! = 100, $after: String) {
  contained(filter: $filter, first: $first, after: $after) { edges { node {
    containment { id severity } unit { id } record { id } shop atIssue addedAt step toldAt done dueBy overdue } }
    pageInfo { endCursor hasNextPage } } }`;
const nodes = (connection: Data): Data[] => connection.edges.map(({ node }: Data) => node);
const told = async (caller: Caller, filter: object = {}) => nodes((await ask(caller, query, { filter })).contained);
const counted = async (caller: Caller, filter: object = {}) =>
  nodes(
    (
      await ask(
        caller,
        `query ($filter: ContainedFilter) { containedCounts(filter: $filter) { edges { node {
          containment { id } distributor shop units done overdue } } } }`,
        { filter },
      )
    ).containedCounts,
  );

describe('what is contained', () => {
  it('is what REST tells of the containments that are not lifted, to whoever asks', async () => {
    for (const [caller, count] of [
      [analyst, 5],
      [brackwater, 5],
      [tollan, 1],
    ] as const) {
      const found = await told(caller);
      expect(found).toEqual(await listed(caller));
      expect(found).toHaveLength(count);
      expect(found.every((one) => one.record !== null)).toBe(true);
    }
  });

  it('is filtered by containment, severity, shop, distributor, step, and what is done or overdue', async () => {
    const all = await listed(brackwater);
    const filters: readonly (readonly [object, (one: Data) => boolean])[] = [
      [{ containment: ids['bad']?.toUpperCase() }, (one) => one.containment.id === ids['bad']],
      [{ severity: 'inspect' }, (one) => one.containment.severity === 'inspect'],
      [{ shop: 'south' }, (one) => one.shop === 'south'],
      [{ step: 'secured' }, (one) => one.step === 'secured'],
      [{ done: true }, (one) => one.done],
      [{ done: false, shop: 'north' }, (one) => !one.done && one.shop === 'north'],
      [{ overdue: true }, (one) => one.overdue],
      [{ distributor: 'brackwater', severity: null }, () => true],
    ];
    for (const [filter, isSought] of filters) {
      const expected = all.filter(isSought);
      expect([filter, await told(brackwater, filter)]).toEqual([filter, expected]);
      expect([filter, expected.length > 0]).toEqual([filter, true]);
    }
    expect(await told(analyst, { distributor: 'tollan' })).toHaveLength(1);
    for (const filter of [{ severity: 'halt' }, { step: 'lost' }])
      expect((await askBadly(analyst, query, { filter })).errors[0].extensions.code).toBe('invalid-input');
  });

  it('is counted by containment, distributor and shop, and the counts add up to the units', async () => {
    expect(await counted(analyst, { containment: ids['bad'] })).toEqual([
      { containment: { id: ids['bad'] }, distributor: 'brackwater', shop: 'north', units: 2, done: 1, overdue: 0 },
      { containment: { id: ids['bad'] }, distributor: 'brackwater', shop: 'south', units: 1, done: 0, overdue: 0 },
      { containment: { id: ids['bad'] }, distributor: 'tollan', shop: 'north', units: 1, done: 0, overdue: 0 },
    ]);
    for (const caller of [analyst, brackwater, tollan]) {
      const [units, counts] = [await listed(caller), await counted(caller)];
      const sum = (of: (one: Data) => number) => counts.reduce((total, one) => total + of(one), 0);
      expect([sum((one) => one.units), sum((one) => one.done), sum((one) => one.overdue)]).toEqual([
        units.length,
        units.filter((one) => one.done).length,
        units.filter((one) => one.overdue).length,
      ]);
    }
  });

  it('is paged, down to the reading', async () => {
    const paged: Data[] = [];
    for (let after: string | null = null; ; ) {
      const { contained } = await ask(brackwater, query, { first: 2, after });
      paged.push(...nodes(contained));
      after = contained.pageInfo.endCursor;
      if (!contained.pageInfo.hasNextPage) break;
    }
    expect(paged).toEqual(await told(brackwater));
    const deep = `{ contained(first: 1) { edges { node { record { torques { joint readings { value unit } } } } } } }`;
    const [node] = nodes((await ask(brackwater, deep)).contained);
    expect(node.record.torques[0].readings[0]).toEqual({ value: expect.any(String), unit: 'N.m' });
  });
});
