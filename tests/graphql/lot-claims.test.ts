/**
 * Claims per lot, held against what REST lists: reach, claims and mountings, put together here in the plainest way.
 * That a claim is about a lot by what was in the unit at the failure is common practice, no published source.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { claimOf } from '../support/make-claims.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, maker, onControl, onPump, openShops, registerPair } from '../support/shop.ts';
import { ask, askBadly, type Data } from './ask.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
const people = await service.as({ maker });
const lots = ['L-1', 'BAD', 'PIECES', 'GOOD'];

const convert = async (shop: Caller, number: string, to: string, day: string, lot: string) => {
  const frame = { reference: `${number}-${day}`, performedAt: `2026-${day}T08:00:00Z` };
  const record: Data = await conversionOf(shop, number, to, frame);
  const fitted = record.fitted.map((one: object) => ({ ...one, lot }));
  await mustGoWell(shop('POST', '/v1/conversions', { ...record, fitted }));
};
let said = 0;
const claim = async (shop: Caller, unit: object, failedAt: string, decision: string | null, more: object = {}) => {
  const body = claimOf(unit, `claim-${said++}`, { failedAt, ...more });
  const { id } = (await mustGoWell(shop('POST', '/v1/claims', body))).body;
  if (decision !== null) {
    const asks = decision === 'more-evidence' ? { asks: ['the filter'] } : {};
    const decided = { reference: `decided-${said}`, performedAt: '2026-09-02T08:00:00Z', decision, reasons: 'seen' };
    await mustGoWell(people('POST', `/v1/claims/${id}/decisions`, { ...decided, ...asks }));
  }
  return id as string;
};
const takeOff = async (number: string, day: string) =>
  await mustGoWell(
    brackwater('POST', '/v1/mountings', {
      ...{ ...onControl(number), ...onPump(number), reference: `off-${number}`, performedAt: `2026-${day}T08:00:00Z` },
      ...{ shop: 'north', technician: 't-17', edition: '2026-1', on: false },
    }),
  );

beforeAll(async () => {
  for (const shop of [brackwater, tollan]) {
    for (const number of ['BAD', 'GOOD', 'PIECES'])
      await mustGoWell(shop('PUT', `/v1/lots/${maker}/${number}`, { part: 'kit-sense' }));
    const components = [{ element: 'plug-m5', lot: { maker, number: 'PIECES' } }];
    await mustGoWell(shop('PUT', `/v1/lots/${maker}/KITS`, { part: 'kit-sense', components }));
  }
  for (const number of ['a', 'b', 'c', 'd', 'e', 'f']) await registerPair(brackwater, number);
  await registerPair(tollan, 't');
  for (const number of ['a', 'b', 'c', 'e']) await convert(brackwater, number, 'load-sense', '04-01', 'BAD');
  await convert(brackwater, 'd', 'load-sense', '07-01', 'BAD');
  await convert(brackwater, 'f', 'load-sense', '04-02', 'KITS');
  await convert(tollan, 't', 'load-sense', '04-03', 'BAD');
  await convert(brackwater, 'e', 'load-sense-bled', '05-01', 'GOOD');
  await takeOff('c', '05-03');
  const summer = '2026-06-20T08:00:00Z';
  // By the pump, for what was in its control.
  await claim(brackwater, onPump('a'), summer, 'accepted');
  await claim(brackwater, onControl('a'), summer, 'declined', { part: 'kit-part' });
  await claim(brackwater, onPump('b'), summer, null);
  // The control was off by then.
  await claim(brackwater, onPump('c'), summer, 'accepted');
  // Before the part was put in.
  await claim(brackwater, onControl('d'), summer, 'accepted');
  await claim(brackwater, onControl('e'), summer, 'more-evidence');
  await claim(brackwater, onControl('f'), summer, 'goodwill');
  const wrong = await claim(tollan, onControl('t'), '2026-07-20T08:00:00Z', null);
  await claim(tollan, onControl('t'), '2026-07-21T08:00:00Z', 'declined', { replaces: wrong });
});

async function allOf(caller: Caller, path: string): Promise<Data[]> {
  const found: Data[] = [];
  for (let after: string | null = null; ; ) {
    const { body } = await mustGoWell(
      caller('GET', `${path}${path.includes('?') ? '&' : '?'}first=3${after === null ? '' : `&after=${after}`}`),
    );
    found.push(...body.items);
    after = body.pageInfo.endCursor;
    if (!body.pageInfo.hasNextPage) return found;
  }
}

/** The unit of a claim, and what REST says was mounted with it at some time of the failure. */
async function concernedBy(caller: Caller, { unit, failed }: Data): Promise<string[]> {
  const path = `/v1/${unit.kind}s/${unit.maker}/${encodeURIComponent(unit.name)}/history`;
  const { mountings } = (await mustGoWell(caller('GET', path))).body;
  const then = mountings.filter(({ from, to }: Data) => from <= failed.to && (to === null || to >= failed.from));
  return [unit.unit, ...then.map((one: Data) => one.unit)];
}

async function naive(caller: Caller, lot: string) {
  const reached = await allOf(caller, `/v1/reach?lot=${maker}/${lot}`);
  const claims = (await allOf(caller, '/v1/claims')).filter((one) => one.status !== 'replaced');
  const about = await Promise.all(claims.map(async (one) => [one, await concernedBy(caller, one)] as const));
  return reached.map(({ unit, still, records }) => ({
    ...{ unit: unit as string, still: still as string },
    records: records.map((one: Data) => one.id).sort(),
    claims: about
      .filter(
        ([{ failed }, units]) => units.includes(unit) && records.some((one: Data) => one.performed.from <= failed.to),
      )
      .map(([one]) => one)
      .map(({ claim: id, status, distributor, reference, part, reopened, failed, raised }) => ({
        ...{ id, status, distributor, reference, part, reopened, failed, raised },
      })),
  }));
}
type Exposed = Awaited<ReturnType<typeof naive>>;

const claimsIn = (units: Exposed) => [...new Set(units.flatMap((one) => one.claims.map(({ id }) => id)))];
function counts(units: Exposed) {
  const withStill = (still: string) => units.filter((one) => one.still === still).length;
  const withClaim = (status: string) => units.filter((one) => one.claims.some((each) => each.status === status)).length;
  return {
    ...{ units: units.length, now: withStill('now'), once: withStill('once'), unknown: withStill('unknown') },
    claimed: units.filter((one) => one.claims.length > 0).length,
    ...{ open: withClaim('open'), moreEvidence: withClaim('more-evidence'), accepted: withClaim('accepted') },
    ...{ declined: withClaim('declined'), goodwill: withClaim('goodwill'), claims: claimsIn(units).length },
  };
}

const exposure = 'exposure { units now once unknown claimed open moreEvidence accepted declined goodwill claims }';
const exposed = `units(first: $first, after: $after, still: $still, claimed: $claimed) {
  edges { node { still unit { id } records { id torques { readings { value unit } } }
    claims { id status distributor reference part reopened failed { from to } raised { from to } } } }
  pageInfo { endCursor hasNextPage } }`;
const query = `query ($number: String!, $first: Int! = 30, $after: String, $still: UnitStill, $claimed: Boolean) {
  lot(maker: "ardenholm", number: $number) { ${exposure} claims(first: 50) { edges { node { id } } } ${exposed} } }`;
const unitsOf = (lot: Data): Data[] =>
  lot.units.edges.map(({ node: { unit, still, records, claims } }: Data) => ({
    ...{ unit: unit.id, still, records: records.map((one: Data) => one.id).sort(), claims },
  }));

describe('the exposure of a lot', () => {
  it.each(lots)('of %s is what reach, claims and mountings say together, to whoever asks', async (number) => {
    for (const caller of [analyst, brackwater, tollan]) {
      const expected = await naive(caller, number);
      const { lot } = await ask(caller, query, { number });
      expect(unitsOf(lot)).toEqual(expected);
      expect(lot.exposure).toEqual(counts(expected));
      expect(lot.claims.edges.map(({ node }: Data) => node.id)).toEqual(claimsIn(expected).sort());
    }
  });

  it('takes in what the pump was claimed for, and neither what was off by then nor what came later', async () => {
    const { lot } = await ask(analyst, query, { number: 'BAD' });
    expect(lot.exposure).toMatchObject({
      ...{
        units: 6,
        now: 5,
        once: 1,
        claimed: 4,
        open: 1,
        moreEvidence: 1,
        accepted: 1,
        declined: 2,
        goodwill: 0,
        claims: 5,
      },
    });
    expect((await ask(analyst, query, { number: 'PIECES' })).lot.exposure).toMatchObject({ units: 1, goodwill: 1 });
  });

  it('is filtered and paged by unit, down to the reading', async () => {
    const all: Data[] = unitsOf((await ask(analyst, query, { number: 'BAD' })).lot);
    for (const still of ['now', 'once', 'unknown'])
      expect(unitsOf((await ask(analyst, query, { number: 'BAD', still })).lot)).toEqual(
        all.filter((one) => one.still === still),
      );
    for (const claimed of [true, false])
      expect(unitsOf((await ask(analyst, query, { number: 'BAD', claimed })).lot)).toEqual(
        all.filter((one) => one.claims.length > 0 === claimed),
      );
    const paged: Data[] = [];
    for (let after: string | null = null; ; ) {
      const { lot } = await ask(analyst, query, { number: 'BAD', first: 2, after });
      paged.push(...unitsOf(lot));
      after = lot.units.pageInfo.endCursor;
      if (!lot.units.pageInfo.hasNextPage) break;
    }
    expect(paged).toEqual(all);
    const { lot } = await ask(analyst, query, { number: 'BAD', first: 1 });
    expect(lot.units.edges[0].node.records[0].torques[0].readings[0]).toEqual({
      value: expect.any(String),
      unit: 'N.m',
    });
  });
});

const list = `query ($filter: ClaimFilter, $first: Int! = 100, $after: String) {
  claimedLots(maker: "ardenholm", filter: $filter, first: $first, after: $after) {
    edges { node { claims lot { number } } } pageInfo { endCursor hasNextPage } } }`;
const listed = async (caller: Caller, variables: object = {}): Promise<[string, number][]> =>
  (await ask(caller, list, variables)).claimedLots.edges.map(({ node }: Data) => [node.lot.number, node.claims]);

describe('the lots with claims', () => {
  it('come with most claims first, as many as their units have', async () => {
    for (const caller of [analyst, brackwater, tollan]) {
      const expected = await Promise.all(
        [...lots, 'KITS'].map(async (lot) => [lot, claimsIn(await naive(caller, lot)).length] as const),
      );
      const claimed = expected.filter(([, count]) => count > 0);
      expect(await listed(caller)).toEqual(claimed.sort(([a, many], [b, few]) => few - many || (a < b ? -1 : 1)));
    }
    // The seals of every conversion are from one lot, so it is on top.
    expect((await listed(analyst)).slice(0, 2)).toEqual([
      ['L-1', 6],
      ['BAD', 5],
    ]);
  });

  it('are filtered by how the claims stand, what is claimed and when it failed, and are paged', async () => {
    const only = async (filter: object) => new Map(await listed(analyst, { filter }));
    expect((await only({ status: 'accepted' })).get('BAD')).toBe(1);
    expect((await only({ status: 'declined', part: 'kit-part' })).get('BAD')).toBe(1);
    expect((await only({ failedFrom: '2026-07-01T00:00:00Z' })).get('BAD')).toBe(1);
    expect((await only({ failedTo: '2026-07-01T00:00:00Z' })).get('BAD')).toBe(4);
    expect(await only({ failedTo: '2026-06-01T00:00:00Z' })).toEqual(new Map());
    const all = await listed(analyst);
    const { endCursor } = (await ask(analyst, list, { first: 1 })).claimedLots.pageInfo;
    expect(await listed(analyst, { first: 100, after: endCursor })).toEqual(all.slice(1));
    const claims = `{ lot(maker: "ardenholm", number: "BAD") { claims(filter: {status: "declined"}) { edges { node { id } } } } }`;
    expect((await ask(analyst, claims)).lot.claims.edges).toHaveLength(2);
  });

  it('know no status and no part that claims do not have', async () => {
    for (const filter of [{ status: 'lost' }, { part: 'spring' }]) {
      const { errors } = await askBadly(analyst, list, { filter });
      expect(errors[0].extensions.code).toBe('invalid-input');
    }
  });
});
