/** Counts by GraphQL, against what REST lists one by one. What "first pass" is, is common practice, no published source. */
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';
import { ask, askBadly, type Data } from './ask.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);

async function convert(shop: Caller, number: string, performedAt: string, more: object = {}): Promise<Data> {
  await registerPair(shop, number);
  const body = await conversionOf(shop, number, 'load-sense', { reference: `C-${number}`, performedAt });
  return await shop('POST', '/v1/conversions', { ...body, ...more });
}

beforeAll(async () => {
  await mustGoWell(convert(brackwater, 'a', '2026-03-31T23:59:59Z'));
  await mustGoWell(convert(brackwater, 'b', '2026-04-01T00:00:00Z'));
  await mustGoWell(convert(brackwater, 'c', '2026-04-30T08:00:00Z', { torques: [] }));
  expect((await convert(brackwater, 'd', '2026-04-03T08:00:00Z', { removed: [] })).status).toBe(409);
  const { id } = (await mustGoWell(convert(brackwater, 'e', '2026-04-04T08:00:00Z'))).body;
  await mustGoWell(brackwater('POST', `/v1/records/${id}/corrections`, { kind: 'void', reason: 'another control' }));
  await mustGoWell(convert(tollan, 'f', '2026-04-05T08:00:00Z'));
});

const counted =
  'edges { node { distributor shop function month conversions firstPass } } pageInfo { endCursor hasNextPage }';
const conversions = async (caller: Caller, args = ''): Promise<Data[]> =>
  (await ask(caller, `{ conversions${args} { ${counted} } }`)).conversions.edges.map((one: Data) => one.node);

describe('conversions', () => {
  it('are counted by shop, function and month, with those that nothing held at first', async () => {
    const here = { distributor: 'brackwater', shop: 'north', function: 'load-sense' };
    expect(await conversions(brackwater)).toEqual([
      { ...here, month: '2026-04', conversions: 2, firstPass: 1 },
      { ...here, month: '2026-03', conversions: 1, firstPass: 1 },
    ]);
    expect(await conversions(tollan)).toMatchObject([{ distributor: 'tollan', conversions: 1 }]);
    const all = await conversions(analyst);
    expect(all.map((one) => [one.distributor, one.month, one.conversions])).toEqual([
      ['brackwater', '2026-04', 2],
      ['tollan', '2026-04', 1],
      ['brackwater', '2026-03', 1],
    ]);
  });

  it('add up to what REST lists: every conversion that counts, once', async () => {
    const { text } = await brackwater('GET', '/v1/export/records?kind=conversion', undefined, null);
    const listed = text
      .trim()
      .split('\n')
      .map((line) => JSON.parse(line));
    const total = (await conversions(brackwater)).reduce((sum, one) => sum + one.conversions, 0);
    expect(total).toBe(listed.filter((one: Data) => one.correctedBy === null).length);
  });

  it('are of a period, shop and function, and are paged', async () => {
    expect(await conversions(brackwater, '(filter: { performedTo: "2026-04-01T00:00:00Z" })')).toHaveLength(1);
    expect(await conversions(brackwater, '(filter: { performedFrom: "2026-04-01T00:00:00Z" })')).toHaveLength(1);
    expect(await conversions(brackwater, '(filter: { shop: "south" })')).toEqual([]);
    expect(await conversions(brackwater, '(filter: { function: "remote-pressure" })')).toEqual([]);
    const first = (await ask(brackwater, `{ conversions(first: 1) { ${counted} } }`)).conversions;
    expect(first.pageInfo.hasNextPage).toBe(true);
    const after = JSON.stringify(first.pageInfo.endCursor);
    expect(await conversions(brackwater, `(first: 1, after: ${after})`)).toMatchObject([{ month: '2026-03' }]);
  });
});

describe('rules', () => {
  const rules = async (caller: Caller): Promise<Data> => {
    const { conversionRules } = await ask(caller, '{ conversionRules { edges { node { rule held refused } } } }');
    return conversionRules.edges.map((one: Data) => one.node);
  };

  it('are counted by what they held and what they refused, the latter for who sent it alone', async () => {
    const own = await rules(brackwater);
    expect(own).toContainEqual({ rule: 'joint-not-closed', held: 1, refused: 0 });
    expect(own.filter((one: Data) => one.refused > 0 && one.held === 0).length).toBeGreaterThan(0);
    expect(await rules(analyst)).toEqual([{ rule: 'joint-not-closed', held: 1, refused: null }]);
    expect(await rules(tollan)).toEqual([]);
  });
});

describe('what is held and due', () => {
  it('is counted as REST counts it', async () => {
    for (const [field, path] of [
      ['heldCounts', 'held'],
      ['dueCounts', 'due'],
    ] as const) {
      const { counts } = (await mustGoWell(brackwater('GET', `/v1/${path}/counts`))).body;
      const asked = await ask(
        brackwater,
        `{ ${field} { edges { node { shop rule fromDays toDays findings units } } } }`,
      );
      const told = asked[field].edges.map((one: Data) => one.node);
      expect([field, told]).toEqual([
        field,
        counts.map(({ shop, rule, days, findings, units }: Data) => ({
          ...{ shop, rule, fromDays: days.from, toDays: days.to, findings, units },
        })),
      ]);
    }
    const { edges } = (
      await ask(brackwater, '{ heldCounts(rule: "joint-not-closed", shop: "north") { edges { node { findings } } } }')
    ).heldCounts;
    expect(edges.length).toBeGreaterThan(0);
    expect((await askBadly(analyst, '{ heldCounts { edges { node { findings } } } }')).errors[0].extensions.code).toBe(
      'forbidden',
    );
  });
});
