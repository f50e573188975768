/** What is held and what is due, for those who have to see to it. Invented throughout; periods as ISO 8601 writes them. */
import { beforeAll, describe, expect, it } from 'vitest';
import { demoWith } from '../support/bench/demo-job.ts';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, edition, onControl, openShops, registerControl, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
type Json = Awaited<ReturnType<typeof brackwater>>['body'];

const list = async (path: string, shop = brackwater) => (await mustGoWell(shop('GET', path))).body.items as Json[];
let held: Json;
let front: Json;

beforeAll(async () => {
  await registerPair(brackwater, '1');
  const body = (await conversionOf(brackwater, '1', 'load-sense', {
    ...{ reference: 'h-1', performedAt: '2026-04-01T08:00:00Z' },
  })) as Json;
  front = body['torques'].find((one: Json) => one['joint'] === 'sense-adjuster-body');
  const others = body['torques'].filter((one: Json) => one !== front);
  const loose = { ...body, torques: [{ ...front, reading: { value: '40', unit: 'N.m' } }, ...others] };
  held = (await mustGoWell(brackwater('POST', '/v1/conversions', loose))).body;
  await registerControl(brackwater, 'shelf', 'load-sense');
  const onShelf = (await conversionOf(brackwater, 'shelf', 'load-sense-bled', {
    ...{ reference: 'h-2', performedAt: '2026-04-02T08:00:00Z' },
  })) as Json;
  await mustGoWell(brackwater('POST', '/v1/conversions', onShelf));
});

describe('what is held', () => {
  it('names the unit, the record, the rule and what clears it, and how old it is', async () => {
    const items = await list('/v1/held');
    expect(items).toHaveLength(1);
    expect(items[0]).toMatchObject({
      ...{ record: held['id'], kind: 'conversion', reference: 'h-1', shop: 'north', rule: 'torque-outside' },
      unit: { kind: 'control', name: 'K-1' },
      severity: 'hold',
      clearedBy: [{ kind: 'torque' }, { kind: 'disposition', place: held['id'] }],
    });
    // The test runs on a day after that.
    const days = Math.floor((Date.now() - Date.parse('2026-04-01T08:00:00Z')) / 86_400_000);
    expect(Math.abs(items[0]?.['ageDays'] - days)).toBeLessThanOrEqual(1);
  });

  it('is found by shop, rule and age', async () => {
    expect(await list('/v1/held?shop=north&rule=torque-outside&days=1')).toHaveLength(1);
    expect(await list('/v1/held?shop=south')).toEqual([]);
    expect(await list('/v1/held?rule=lot-unknown')).toEqual([]);
    expect(await list('/v1/held?days=36500')).toEqual([]);
  });

  it('is nobody else’s to see', async () => {
    expect(await list('/v1/held', tollan)).toEqual([]);
    expect((await analyst('GET', '/v1/held')).status).toBe(403);
  });

  it('is there no more once it is cleared', async () => {
    const frame = { reference: 'a-1', performedAt: '2026-04-03T08:00:00Z', edition, shop: 'north', technician: 't-17' };
    const torques = [{ ...front, reading: { value: '61', unit: 'N.m' } }];
    await mustGoWell(brackwater('POST', '/v1/adjustments', { ...onControl('1'), ...frame, torques }));
    expect(await list('/v1/held')).toEqual([]);
  });
});

describe('what is due', () => {
  it('comes page by page, each finding once', async () => {
    const all = await list('/v1/due');
    expect(all.length).toBeGreaterThan(3);
    expect(new Set(all.map((one) => one['severity']))).toEqual(new Set(['due']));
    const paged: Json[] = [];
    let after = '';
    for (;;) {
      const { items, pageInfo } = (await mustGoWell(brackwater('GET', `/v1/due?first=2${after}`))).body;
      paged.push(...items);
      if (!pageInfo.hasNextPage) break;
      after = `&after=${pageInfo.endCursor}`;
    }
    expect(paged.map((one) => one['id'])).toEqual(all.map((one) => one['id']));
  });

  it.each([
    '/v1/due?after=nothing',
    '/v1/stock?shop=north&after=nothing',
    '/v1/stock?shop=north&after=%00',
    '/v1/due?days=-1',
    '/v1/held?severity=hold',
    '/v1/held?shop=%00',
  ])('%s is refused with its place', async (path) => {
    const answer = await brackwater('GET', path);
    expect([answer.status, answer.body.code]).toEqual([400, 'invalid-input']);
  });
});

describe('how much is due', () => {
  const ago = (days: number) => new Date(Date.now() - days * 86_400_000 - 3_600_000).toISOString();
  const counts = async (query = '', path = '/v1/due/counts') =>
    (await mustGoWell(brackwater('GET', `${path}${query}`))).body;
  const overdue = async (query: string) => (await list(`/v1/due?kind=conversion&shop=south&${query}`)).length;

  /** Off the pump, so settings and checks are due; at a shop of its own. */
  async function convertedDaysAgo(days: number): Promise<Json> {
    const number = `ago-${days}`;
    await registerControl(brackwater, number, 'load-sense');
    const body = (await conversionOf(brackwater, number, 'load-sense-bled', {
      ...{ reference: number, performedAt: ago(days) },
    })) as Json;
    return (await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, shop: 'south' }))).body;
  }
  const dueOf = ({ findings }: Json) => findings.filter((one: Json) => one['severity'] === 'due').length as number;
  let made: Json[];
  let each: number;

  beforeAll(async () => {
    await mustGoWell(brackwater('PUT', '/v1/shops/south', { name: 'south yard' }));
    made = [];
    for (const days of [7, 8, 30, 31, 90, 91]) made.push(await convertedDaysAgo(days));
    each = dueOf(made[0] as Json);
    expect(each).toBeGreaterThan(1);
  });

  it('is counted by shop, rule and age, the last day of a band in it', async () => {
    const { findings, counts: lines, overdue: late } = await counts('?shop=south');
    expect([findings, late]).toEqual([6 * each, 4 * each]);
    const byAge = Map.groupBy(lines as Json[], ({ days }) => `${days.from}-${days.to}`);
    const sums = [...byAge].map(([band, of]) => [band, of.reduce((sum, one) => sum + one['findings'], 0)]);
    expect(Object.fromEntries(sums)).toEqual({ '0-7': each, '8-30': 2 * each, '31-90': 2 * each, '91-null': each });
    expect(lines.every((one: Json) => one['shop'] === 'south' && one['units'] <= 2)).toBe(true);
    const ofList = Object.entries(Object.groupBy(await list('/v1/due?shop=south&first=200'), (one) => one['rule']));
    const ofCounts = Object.groupBy(lines as Json[], (one) => one['rule']);
    for (const [rule, items] of ofList)
      expect([rule, ofCounts[rule]?.reduce((sum, one) => sum + one['findings'], 0)]).toEqual([rule, items?.length]);
  });

  it('is counted as it is listed, whatever is asked for, and by nobody else', async () => {
    const all = '?shop=south&kind=conversion';
    for (const query of ['&rule=check-due', '&days=31', `&from=${ago(40)}`, `&to=${ago(40)}`, '&overdue=true'])
      expect([query, (await counts(all + query)).findings]).toEqual([
        query,
        (await list(`/v1/due${all}${query}&first=200`)).length,
      ]);
    expect((await counts('?kind=mounting')).findings).toBe(0);
    expect(await counts('?shop=south', '/v1/held/counts')).toEqual({ findings: 0, counts: [] });
    expect((await mustGoWell(tollan('GET', '/v1/due/counts'))).body).toEqual({ findings: 0, overdue: 0, counts: [] });
    expect((await analyst('GET', '/v1/due/counts')).status).toBe(403);
  });

  it('is overdue after 30 days, or after a period that is asked for', async () => {
    expect(await overdue('overdue=true&first=200')).toBe(4 * each);
    expect(await overdue('overdue=false&first=200')).toBe(2 * each);
    expect(await overdue('overdue=true&overdueAfter=P90D&first=200')).toBe(2 * each);
    expect(await overdue('overdue=true&overdueAfter=P1Y&first=200')).toBe(0);
    expect(await overdue('overdue=true&overdueAfter=P7D&first=200')).toBe(6 * each);
    const [item] = await list('/v1/due?shop=south&first=1');
    const end = Date.parse(item?.['performed'].to);
    expect([Date.parse(item?.['dueBy']) - end, item?.['overdue']]).toEqual([30 * 86_400_000, false]);
  });

  it('is found by the time of the work, half-open', async () => {
    const [first] = await list('/v1/due?shop=south&first=1');
    const from = first?.['performed'].from;
    expect(await overdue(`from=${from}&first=200`)).toBe(each);
    expect(await overdue(`to=${from}&first=200`)).toBe(5 * each);
  });

  it('tells what is handed over from what is not', async () => {
    const before = await overdue('handedOver=false&first=200');
    const dues = [{ record: made[0]?.['id'], rule: 'check-due' }];
    const handedOver = { acceptedBy: 'plant engineer', dues };
    const frame = { reference: 'mv-1', performedAt: ago(1), shop: 'south', technician: 't-17' };
    const away = { what: 'delivered', ...onControl('ago-7'), ...frame, handedOver };
    const { id } = (await mustGoWell(brackwater('POST', '/v1/movements', away))).body;
    const over = await list('/v1/due?shop=south&handedOver=true&first=200');
    expect(new Set(over.map((one) => one['handedOver']))).toEqual(new Set([id]));
    expect(before - (await overdue('first=200'))).toBe(over.length);
    expect((await counts('?handedOver=true')).findings).toBe(over.length);
  });

  it.each(['overdueAfter=30', 'overdueAfter=P1D2', 'overdueAfter=P9999Y', 'overdue=yes', 'kind=%00', 'from=2026'])(
    '%s is refused with its place',
    async (query) => {
      expect((await brackwater('GET', `/v1/due?${query}`)).status).toBe(400);
      expect((await brackwater('GET', `/v1/due/counts?${query}`)).status).toBe(400);
    },
  );

  it('asks what is held neither when it is overdue nor whether it is handed over', async () => {
    expect((await brackwater('GET', '/v1/held?overdue=true')).status).toBe(400);
    expect((await brackwater('GET', '/v1/held/counts?handedOver=true')).status).toBe(400);
  });

  it('is overdue by the edition where that says how long it may take', async () => {
    const quick = { ...demoWith({}), edition: '2026-2', effectiveFrom: '2026-01-02', demands: { dueWithin: 'P8D' } };
    const publisher = await service.as({ maker: 'ardenholm' });
    await mustGoWell(publisher('PUT', '/v1/catalogue/ardenholm/editions/2026-2', quick));
    await registerControl(brackwater, 'quick', 'load-sense');
    const body = (await conversionOf(brackwater, 'quick', 'load-sense-bled', {
      ...{ reference: 'quick', performedAt: ago(9) },
    })) as Json;
    await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, shop: 'south', edition: '2026-2' }));
    const items = (await list('/v1/due?shop=south&first=200')).filter((one) => one['reference'] === 'quick');
    expect(items.length).toBeGreaterThan(0);
    for (const { performed, dueBy, overdue: late } of items)
      expect([Date.parse(dueBy) - Date.parse(performed.to), late]).toEqual([8 * 86_400_000, true]);
  });
});
