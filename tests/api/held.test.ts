/** What is held and what is due, for those who have to see to it. Invented throughout. */
import { beforeAll, describe, expect, it } from 'vitest';
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
