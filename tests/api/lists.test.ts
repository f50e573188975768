/** Lists page by page: cursors, and what each entry says. */
import { randomUUID } from 'node:crypto';
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, inspectionOf, intakeOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const history = '/v1/controls/ardenholm/K-1/history';
const intakes = '/v1/lots/ardenholm/L-1/intakes';

beforeAll(async () => {
  await registerPair(brackwater, '1');
  for (const [to, day] of [
    ['load-sense', '04-01'],
    ['load-sense-bled', '05-01'],
  ] as const) {
    const frame = { reference: to, performedAt: `2026-${day}T08:00:00Z` };
    await mustGoWell(brackwater('POST', '/v1/conversions', await conversionOf(brackwater, '1', to, frame)));
  }
  for (const nth of [1, 2]) {
    await mustGoWell(brackwater('PUT', `/v1/shops/shop-${nth}`, { name: 'another' }));
    await mustGoWell(brackwater('PUT', `/v1/technicians/t-${nth}`, { name: 'another' }));
    await mustGoWell(brackwater('PUT', `/v1/lots/ardenholm/L-1${nth}`, { part: 'kit-sense' }));
    await mustGoWell(brackwater('POST', intakes, intakeOf(`IN-${nth}`)));
    const unknown = { ...inspectionOf('1', { reference: `${nth}`, performedAt: '2026-06-01T08:00:00Z' }), shop: 'x' };
    expect((await brackwater('POST', '/v1/inspections', unknown)).status).toBe(409);
  }
});

const lists = [
  ['/v1/shops?'],
  ['/v1/technicians?'],
  ['/v1/instruments?'],
  ['/v1/lots?'],
  [`${intakes}?`],
  ['/v1/attempts?'],
  [`${history}?`],
  [`${history}?order=newest&`],
  ['/v1/reach?shop=north&'],
] as const;

describe('a cursor', () => {
  it.each(lists)('of %s leads through the whole list, each entry once', async (path) => {
    const { items: whole } = (await mustGoWell(brackwater('GET', `${path}first=200`))).body;
    const seen: unknown[] = [];
    let after: string | null = null;
    for (let more = true; more; ) {
      const asked: string = after === null ? '' : `&after=${encodeURIComponent(after)}`;
      const { items, pageInfo } = (await mustGoWell(brackwater('GET', `${path}first=1${asked}`))).body;
      seen.push(...items);
      after = pageInfo.endCursor;
      more = pageInfo.hasNextPage;
    }
    expect(whole.length).toBeGreaterThan(1);
    expect(seen).toEqual(whole);
  });

  const unknown = 'take it from pageInfo.endCursor of the page before';
  it.each(lists)('that is none of %s is refused, with the parameter that it is in', async (path) => {
    for (const after of ['zzz', '', '0', '%00', randomUUID(), `${randomUUID()}.1`]) {
      const { status, body } = await brackwater('GET', `${path}after=${after}`);
      expect([after, status, body.code, body.errors]).toEqual([
        after,
        400,
        'invalid-input',
        [{ parameter: 'after', detail: after === '%00' ? 'may not hold NUL (%00)' : unknown }],
      ]);
    }
  });

  it("of another distributor's list is none of one's own", async () => {
    const { endCursor } = (await mustGoWell(brackwater('GET', intakes))).body.pageInfo;
    const answer = await tollan('GET', `${intakes}?after=${endCursor}`);
    expect([answer.status, answer.body.errors[0].parameter]).toEqual([400, 'after']);
  });
});

describe('the history of a unit', () => {
  it('is listed the oldest work first, or with order=newest the newest, and else says the same', async () => {
    const oldest = (await mustGoWell(brackwater('GET', `${history}?order=oldest`))).body;
    const newest = (await mustGoWell(brackwater('GET', `${history}?order=newest`))).body;
    const days = (items: { performed: { to: string } }[]) => items.map(({ performed }) => performed.to.slice(5, 7));
    expect(days(oldest.items)).toEqual(['03', '04', '05']);
    expect(newest.items).toEqual(oldest.items.toReversed());
    expect(newest.mountings).toEqual(oldest.mountings);
    expect(newest.state).toEqual(oldest.state);
    expect((await mustGoWell(brackwater('GET', history))).body.items).toEqual(oldest.items);
    const wrong = await brackwater('GET', `${history}?order=latest`);
    expect([wrong.status, wrong.body.errors[0].parameter]).toEqual([400, 'order']);
  });
});

describe('the intakes of a lot', () => {
  it('say when each came in, as it was stated, and under which number', async () => {
    const performedAt = { at: '2026-02-02T00:00:00+00:00', precision: 'day' };
    const path = '/v1/lots/ardenholm/L-11/intakes';
    const { body } = await mustGoWell(brackwater('POST', path, { ...intakeOf('IN-day', 7), performedAt }));
    await mustGoWell(brackwater('POST', path, intakeOf('IN-exact', 2)));
    const { items } = (await mustGoWell(brackwater('GET', path))).body;
    expect(items[0]).toMatchObject({
      ...{ id: body.id, lot: 'ardenholm/L-11', shop: 'north', quantity: 7 },
      ...{ reference: 'IN-day', performedAt },
    });
    expect(items[1]).toMatchObject({ reference: 'IN-exact', performedAt: '2026-05-01T08:00:00Z' });
  });

  it('of a lot that one has not stated are not found; of one that nothing came in of they are none', async () => {
    for (const path of ['/v1/lots/ardenholm/L-99/intakes', '/v1/lots/other-maker/L-1/intakes']) {
      const answer = await brackwater('GET', path);
      expect([path, answer.status, answer.body.code]).toEqual([path, 404, 'not-found']);
    }
    expect((await tollan('GET', '/v1/lots/ardenholm/L-12/intakes')).status).toBe(404);
    expect((await mustGoWell(brackwater('GET', '/v1/lots/ardenholm/L-12/intakes'))).body.items).toEqual([]);
  });
});
