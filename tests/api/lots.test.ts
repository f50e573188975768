/** Lots from intake to overdrawn, as callers see them. What is asked of lots is common practice, no published source. */
import { describe, expect, it } from 'vitest';
import { recordAll } from '../../src/app/recording/record-all.ts';
import { conversionBody } from '../../src/core/records/bodies.ts';
import { uploader } from '../support/bulk.ts';
import { testDatabase } from '../support/database.ts';
import { holding, lotWork } from '../support/lot-work.ts';
import { rowCounts, rowsOf } from '../support/rows.ts';
import { edition, mustGoWell } from '../support/scene.ts';
import { type Caller, requestOf, testService } from '../support/service.ts';
import { maker, openShops } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
const hour = (number: string) => Number(number);
const at = (day: string, time = '08:00') => `2026-${day}T${time}:00Z`;

const stateLot = async (number: string, body: object, shop: Caller = brackwater) =>
  await mustGoWell(shop('PUT', `/v1/lots/${maker}/${number}`, body));
let count = 0;
const moved = (list: string, number: string, body: object, shop: Caller = brackwater) =>
  shop('POST', `/v1/lots/${maker}/${number}/${list}`, {
    ...{ reference: `${list}-${number}-${count++}`, performedAt: at('03-01'), shop: 'north' },
    ...body,
  });
const move = async (list: string, number: string, body: object, shop?: Caller) =>
  (await mustGoWell(moved(list, number, body, shop))).body;
const lotOf = async (number: string, shop: Caller = brackwater) =>
  (await mustGoWell(shop('GET', `/v1/lots/${maker}/${number}`))).body;
const itemsOf = async (number: string, shop?: Caller) => {
  const [north] = (await lotOf(number, shop)).shops;
  return Object.fromEntries(north.items.map(({ item, ...one }: { item: string }) => [item, one]));
};

describe('a lot of kits', () => {
  it('is counted in the pieces of its kits, with what is left of opened ones', async () => {
    const { convert } = await lotWork(brackwater, 'kits', hour);
    await stateLot('KITS', { part: 'kit-bleed' });
    await move('intakes', 'KITS', { quantity: 10, location: 'shelf 3' });
    await move('returns', 'KITS', { quantity: 2, counts: 'kits', reason: 'too many' });
    await move('scrappings', 'KITS', { quantity: 1, item: 'seal-22-fkm', reason: 'cut' });
    expect(holding(await convert('1', 'KITS'))).toEqual([]);
    expect((await lotOf('KITS')).shops).toMatchObject([
      {
        ...{ shop: 'north', known: true },
        kits: { takenIn: 8, opened: 1, remainder: [{ item: 'plug-m5', quantity: 1 }] },
      },
    ]);
    const nothing = { restocked: 0, counted: 0, overdrawn: 0 };
    expect(await itemsOf('KITS')).toEqual({
      'orifice-0.6': { ...nothing, takenIn: 10, used: 1, scrapped: 0, returned: 2, balance: 7 },
      'plug-m5': { ...nothing, takenIn: 10, used: 0, scrapped: 0, returned: 2, balance: 8 },
      'seal-22-fkm': { ...nothing, takenIn: 10, used: 0, scrapped: 1, returned: 2, balance: 7 },
    });
    const { items } = (await mustGoWell(brackwater('GET', `/v1/lots/${maker}/KITS/moves`))).body;
    expect(
      items.map((one: Record<string, unknown>) => [one['what'], one['location'], one['counts'], one['item']]),
    ).toEqual([
      ['intake', 'shelf 3', null, null],
      ['return', null, 'kits', null],
      ['scrapping', null, null, 'seal-22-fkm'],
    ]);
  });

  it.each([
    ['an item that is not in the kit', 'intakes', { quantity: 1, item: 'spool-remote' }, '/item'],
    ['pieces without saying of what', 'intakes', { quantity: 1, counts: 'pieces' }, '/item'],
    [
      'a loose piece that is not in the kit',
      'counts',
      { quantity: 1, loose: [{ item: 'shim-0.5', quantity: 1 }] },
      '/loose/0/item',
    ],
    ['a shop that is not known', 'intakes', { quantity: 1, shop: 'nowhere' }, '/shop'],
    ['what is still to come', 'intakes', { quantity: 1, performedAt: '2999-01-01T00:00:00Z' }, '/performedAt'],
  ])('takes no %s', async (_, list, body, pointer) => {
    await stateLot('NONE', { part: 'kit-bleed' });
    const answer = await moved(list, 'NONE', body);
    expect([answer.status, answer.body.findings[0].pointer]).toEqual([409, pointer]);
  });

  it('counts an item in pieces only, and each number of a kind once', async () => {
    const answer = await moved('intakes', 'NONE', { quantity: 1, item: 'plug-m5', counts: 'kits' });
    expect([answer.status, answer.body.errors[0].pointer]).toEqual([400, '/counts']);
    for (const list of ['intakes', 'returns'])
      await move(list, 'NONE', { reference: 'same', quantity: 1, reason: list === 'returns' ? 'x' : undefined });
    const again = await moved('intakes', 'NONE', { reference: 'same', quantity: 1 });
    expect([again.status, again.body.findings[0].rule]).toEqual([409, 'reference-used']);
    expect((await moved('counts', 'NOBODY', { quantity: 1 })).status).toBe(404);
    await stateLot('PLUGS', { part: 'plug-m5' });
    const loose = await moved('counts', 'PLUGS', { quantity: 1, loose: [{ item: 'plug-m5', quantity: 1 }] });
    expect([loose.status, loose.body.findings[0].pointer]).toEqual([409, '/loose']);
  });
});

describe('a lot that runs out', () => {
  it('holds the later work, whichever was recorded first, until it is known that there was more', async () => {
    const { convert, statusOf } = await lotWork(brackwater, 'late', hour);
    await stateLot('LATE', { part: 'orifice-0.6' });
    await move('intakes', 'LATE', { quantity: 1 });
    expect(holding(await convert('9', 'LATE'))).toEqual([]);
    const early = await convert('7', 'LATE');
    expect([holding(early), await statusOf('9'), await statusOf('7')]).toEqual([[], 'held', 'incomplete']);
    const counted = await move('counts', 'LATE', { quantity: 1, performedAt: at('03-02') });
    expect(await statusOf('9')).toBe('held');
    await move('counts', 'LATE', { quantity: 2, performedAt: at('03-02', '09:00') });
    expect(await statusOf('9')).toBe('incomplete');
    expect(await itemsOf('LATE')).toMatchObject({ 'orifice-0.6': { takenIn: 1, used: 2, counted: 1, balance: 0 } });
    await move('scrappings', 'LATE', { quantity: 1, reason: 'bent' });
    expect(await statusOf('9')).toBe('incomplete');
    await move('scrappings', 'LATE', { quantity: 1, reason: 'bent', performedAt: at('03-03') });
    expect(await statusOf('9')).toBe('held');
    expect((await mustGoWell(brackwater('GET', `/v1/judgements?cause=${counted.id}`))).body.items).toEqual([]);
  });

  it('has a piece more when a record that took one is made void, or corrected to another lot', async () => {
    const { convert, statusOf, bleed } = await lotWork(brackwater, 'given', hour);
    for (const lot of ['GIVEN', 'OTHER']) await stateLot(lot, { part: 'orifice-0.6' });
    for (const lot of ['GIVEN', 'OTHER']) await move('intakes', lot, { quantity: 1 });
    const first = await convert('1', 'GIVEN');
    const second = await convert('2', 'GIVEN');
    await convert('3', 'GIVEN');
    expect(holding(second)).toEqual(['lot-overdrawn']);
    expect(second.findings[0]).toMatchObject({
      expected: '1',
      clearedBy: [
        { kind: 'intake', place: 'ardenholm/GIVEN' },
        { kind: 'disposition', place: second.id },
      ],
    });
    const correct = (id: string, body: object) =>
      mustGoWell(brackwater('POST', `/v1/records/${id}/corrections`, { reason: 'misread', ...body }));
    await correct(first.id, { kind: 'void' });
    expect([await statusOf('2'), await statusOf('3')]).toEqual(['incomplete', 'held']);
    await correct(second.id, { kind: 'conversion', body: await bleed('2', 'OTHER') });
    expect([await statusOf('2'), await statusOf('3')]).toEqual(['incomplete', 'incomplete']);
    expect(await itemsOf('OTHER')).toMatchObject({ 'orifice-0.6': { used: 1, balance: 0 } });
    await convert('4', 'OTHER');
    expect(await statusOf('4')).toBe('held');
  });

  it('is told of work that is only judged, and loses nothing by that', async () => {
    const { bleed } = await lotWork(brackwater, 'leave', hour);
    await stateLot('LEAVE', { part: 'orifice-0.8' });
    await move('intakes', 'LEAVE', { quantity: 1 });
    const before = await rowCounts(db);
    const checked = await mustGoWell(brackwater('POST', '/v1/conversions?check=only', await bleed('1', 'LEAVE')));
    expect(holding(checked.body)).toEqual(['not-of-lot', 'lot-overdrawn']);
    const after = await rowCounts(db);
    expect(after['part_uses']).toBe(before['part_uses']);
  });
});

describe('the record that took the last piece of a lot', () => {
  it('takes it once, also when it is corrected', async () => {
    const { convert, bleed } = await lotWork(brackwater, 'last', hour);
    await stateLot('LAST', { part: 'orifice-0.6' });
    await move('intakes', 'LAST', { quantity: 1 });
    const { id } = await convert('1', 'LAST');
    const body = await bleed('1', 'LAST');
    const corrected = await mustGoWell(
      brackwater('POST', `/v1/records/${id}/corrections`, { kind: 'conversion', reason: 'misread', body }),
    );
    expect(holding(corrected.body)).toEqual([]);
    expect(await itemsOf('LAST')).toMatchObject({ 'orifice-0.6': { used: 1, balance: 0 } });
  });
});

describe('a lot of which nothing came in', () => {
  it('is noted, once for a record, and its balance is not known', async () => {
    const { convert } = await lotWork(brackwater, 'never', hour);
    await stateLot('NEVER', { part: 'orifice-0.6' });
    const { findings } = await convert('1', 'NEVER');
    const notes = findings.filter((one) => one.rule === 'intake-unknown');
    expect(notes.map((one) => [one.severity, one.found])).toEqual([
      ['note', 'ardenholm/NEVER'],
      ['note', 'ardenholm/L-1'],
    ]);
    expect((await lotOf('NEVER')).shops).toMatchObject([
      {
        known: false,
        kits: null,
        items: [{ item: 'orifice-0.6', used: 1, balance: null, counted: null, overdrawn: null }],
      },
    ]);
  });

  it('holds where the edition demands intakes, until one is recorded', async () => {
    const stricter = { ...(edition as object), edition: '2026-2', demands: { intakes: true } };
    const publisher = await service.as({ maker });
    await mustGoWell(publisher('PUT', '/v1/catalogue/ardenholm/editions/2026-2', stricter));
    const { convert, statusOf } = await lotWork(brackwater, 'asked', hour);
    await stateLot('ASKED', { part: 'orifice-0.6' });
    await stateLot('SEALS', { part: 'bought-loose' });
    await move('intakes', 'SEALS', { quantity: 50 });
    const { bleed } = await lotWork(brackwater, 'asked2', hour);
    const { seals } = (await bleed('1', 'ASKED')) as { seals: object[] };
    const strict = { edition: '2026-2', seals: seals.map((one) => ({ ...one, lot: 'SEALS' })) };
    expect(holding(await convert('1', 'ASKED', strict))).toEqual(['intake-missing']);
    await move('intakes', 'ASKED', { quantity: 5 });
    expect(await statusOf('1')).toBe('incomplete');
  });
});

describe('equal lots of two distributors in one batch', () => {
  it('are drawn on by their own records alone', async () => {
    const shops = { brackwater, tollan };
    const requests = [];
    for (const [distributor, quantity] of [
      ['brackwater', 3],
      ['tollan', 1],
    ] as const) {
      const { bleed } = await lotWork(shops[distributor], `equal-${distributor}`, hour);
      await stateLot('EQUAL', { part: 'orifice-0.6' }, shops[distributor]);
      await move('intakes', 'EQUAL', { quantity }, shops[distributor]);
      for (const number of ['1', '2', '3']) {
        const sent = await bleed(number, 'EQUAL', { reference: `equal-${number}` });
        const asked = { kind: 'conversion' as const, body: conversionBody.parse(sent), sent };
        requests.push(requestOf(service.app, { distributor }, asked, { key: `equal-${number}` }));
      }
    }
    const outcomes = await recordAll({ ...service.app, pool: service.app.pools.recording }, requests);
    const statuses = outcomes.map((one) => (one.kind === 'kept' ? JSON.parse(one.answer).status : one));
    // The second and third of tollan's are judged after the first, in the same transaction.
    expect(statuses).toEqual(['incomplete', 'incomplete', 'incomplete', 'incomplete', 'held', 'held']);
    const facts = requests.map((one) => one.fact);
    expect(await rowsOf(db, 'select distinct xmin::text from facts where id = any ($1)', [facts])).toHaveLength(1);
    expect(await itemsOf('EQUAL')).toMatchObject({ 'orifice-0.6': { takenIn: 3, used: 3, balance: 0 } });
    expect(await itemsOf('EQUAL', tollan)).toMatchObject({ 'orifice-0.6': { takenIn: 1, used: 3, balance: -2 } });
  });
});

describe('stock by shop', () => {
  it('lists every lot that came in or was used there, page by page', async () => {
    await mustGoWell(brackwater('PUT', '/v1/shops/quay', { name: 'quay' }));
    const { convert } = await lotWork(brackwater, 'quay', hour);
    for (const lot of ['Q-3', 'Q-1', 'Q-2']) await stateLot(lot, { part: 'orifice-0.6' });
    for (const lot of ['Q-3', 'Q-1']) await move('intakes', lot, { quantity: 4, shop: 'quay' });
    await convert('1', 'Q-2', { shop: 'quay', seals: [] });
    await convert('2', 'Q-1', { shop: 'quay', seals: [] });
    const path = '/v1/stock?shop=quay&first=2';
    const first = (await mustGoWell(brackwater('GET', path))).body;
    expect(first.items).toMatchObject([
      { lot: 'ardenholm/Q-1', part: 'orifice-0.6', known: true, items: [{ takenIn: 4, used: 1, balance: 3 }] },
      { lot: 'ardenholm/Q-2', known: false, items: [{ used: 1, balance: null }] },
    ]);
    const rest = (await mustGoWell(brackwater('GET', `${path}&after=${first.pageInfo.endCursor}`))).body;
    expect(rest.items).toMatchObject([{ lot: 'ardenholm/Q-3', items: [{ balance: 4 }] }]);
    expect((await mustGoWell(tollan('GET', path))).body.items).toEqual([]);
    expect((await analyst('GET', path)).status).toBe(403);
  });
});

describe('lines of an upload', () => {
  it('keep every kind of move', async () => {
    await stateLot('LINES', { part: 'kit-bleed' });
    const lot = { maker, number: 'LINES' };
    const body = { performedAt: at('03-01'), shop: 'north', quantity: 2 };
    const lines = [
      { kind: 'intake', lot, body: { ...body, reference: 'l-1', quantity: 9 } },
      { kind: 'scrapping', lot, body: { ...body, reference: 'l-2', reason: 'x' } },
      { kind: 'return', lot, body: { ...body, reference: 'l-3', reason: 'x' } },
      { kind: 'count', lot, body: { ...body, reference: 'l-4', quantity: 4 } },
      {
        kind: 'restocking',
        body: {
          ...body,
          reference: 'l-5',
          record: '0195956e-6c4d-7a31-8a51-3c1d5b0e2f11',
          station: 'bleed-seat',
          element: 'plug-m5',
        },
      },
    ].map((line, nth) => ({ key: `lots-${nth}`, ...line }));
    const { outcomes } = await (await uploader(service, { distributor: 'brackwater' }))(lines);
    expect(outcomes.map((one) => one.status)).toEqual([201, 201, 201, 201, 409]);
    expect(await itemsOf('LINES')).toMatchObject({
      'plug-m5': { takenIn: 9, scrapped: 2, returned: 2, counted: -1, balance: 4 },
    });
  });
});
