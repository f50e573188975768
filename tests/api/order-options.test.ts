/**
 * The lead's question, as the workshop lead asks it: which units and kits in stock serve an order. That what lies on the
 * shelf is used before anything is bought is common practice, no published source; the scene is invented.
 */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { controlBody, conversionOf, intakeOf, maker, openShops } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
type Json = Awaited<ReturnType<Caller>>['body'];
let count = 0;

/** A shop of its own for every test: what lies on one shelf is on no other. */
async function openShop(): Promise<string> {
  count += 1;
  await mustGoWell(brackwater('PUT', `/v1/shops/s${count}`, { name: `yard ${count}` }));
  return `s${count}`;
}
async function move(what: string, unit: object, shop: string, day = '01'): Promise<void> {
  count += 1;
  const frame = { reference: `M-${count}`, performedAt: `2026-04-${day}T08:00:00Z`, shop, technician: 't-17' };
  await mustGoWell(brackwater('POST', '/v1/movements', { what, ...unit, ...frame }));
}
async function control(serial: string, fun: string, shop: string, day?: string): Promise<void> {
  await mustGoWell(brackwater('PUT', `/v1/controls/${maker}/${serial}`, controlBody(fun)));
  await move('received', { control: { maker, serial } }, shop, day);
}
async function pump(serial: string, on: Parameters<typeof pumpWith>[0], shop: string): Promise<void> {
  await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/${serial}`, pumpWith(on)));
  await move('received', { pump: { maker, serial } }, shop);
}
async function lot(part: string, quantity: number, shop: string, more: object = {}): Promise<string> {
  count += 1;
  await mustGoWell(brackwater('PUT', `/v1/lots/${maker}/N-${count}`, { part, ...more }));
  const intake = { ...intakeOf(`I-${count}`, quantity), shop };
  await mustGoWell(brackwater('POST', `/v1/lots/${maker}/N-${count}/intakes`, intake));
  return `N-${count}`;
}
const ask = (query: string, caller = brackwater) => caller('GET', `/v1/orders/options?${query}`);
const asked = 'function=load-sense&size=83&rotation=clockwise';
const options = async (shop: string, query = asked): Promise<Json> =>
  (await mustGoWell(ask(`${query}&shop=${shop}`))).body;
const named = ({ items }: Json) => items.map((one: Json) => one.pump?.name ?? one.control.name);

describe('an order', () => {
  it('of three controls and two kits on the shelf gets the cheapest, with its job sheet', async () => {
    const shop = await openShop();
    await control('K-early', 'remote-pressure', shop, '01');
    await control('K-late', 'remote-pressure', shop, '02');
    await control('K-bled', 'load-sense-bled', shop);
    await lot('kit-sense', 1, shop);
    await lot('kit-bleed', 1, shop);
    const found = await options(shop);
    expect(named(found)).toEqual(['K-bled', 'K-early', 'K-late']);
    expect(found.items[0]).toMatchObject({
      ...{ shop, pump: null, held: false, cost: 28, toBuy: 0, unit: `/v1/controls/${maker}/K-bled` },
      ...{ kits: [{ part: 'kit-bleed', quantity: 1 }], pieces: [], buy: { kits: [], loose: [], cost: 0 } },
      control: { name: 'K-bled', function: 'load-sense-bled', status: 'released', custody: 'stated' },
    });
    const sheet = (await mustGoWell(brackwater('GET', `${found.items[0].unit}/job-sheet?${asked}&shop=${shop}`))).body;
    expect(found.best).toEqual({ id: found.items[0].id, conversion: sheet, mounting: null });
    expect(found.items[0].work.steps).toBe(sheet.steps.length);
  });

  it('is served by what is so already before all that takes work', async () => {
    const shop = await openShop();
    await control('K-work', 'load-sense-bled', shop);
    await control('K-so', 'load-sense', shop);
    const found = await options(shop);
    expect(named(found)).toEqual(['K-so', 'K-work']);
    expect(found.items[0]).toMatchObject({ work: { steps: 0, joints: 0 }, cost: 0, kits: [], toBuy: 0 });
  });

  it('says what must be bought, and that comes after what need not be', async () => {
    const shop = await openShop();
    await control('K-buy', 'load-sense-bled', shop);
    const [only] = (await options(shop)).items;
    expect(only).toMatchObject({
      kits: [],
      buy: { kits: [{ part: 'kit-bleed', quantity: 1 }], loose: [], cost: 28 },
      cost: 28,
    });
    expect(only.toBuy).toBeGreaterThan(0);
    const body = controlBody('load-sense');
    const unsure = { 'bleed-seat': { content: [{ element: 'plug-m5' }], basis: 'assumed' } };
    const stations = { ...body.stations, ...unsure };
    await mustGoWell(brackwater('PUT', `/v1/controls/${maker}/K-look`, { ...body, stations }));
    await move('received', { control: { maker, serial: 'K-look' } }, shop);
    await lot('seal-22-fkm', 9, shop);
    const all = (await options(shop)).items;
    expect(all.map((one: Json) => [one.control.name, one.toBuy, one.work.steps > 0])).toEqual([
      ['K-look', 0, true],
      ['K-buy', 1, true],
    ]);
  });

  it('takes loose pieces before it opens a kit, and none that a record has taken', async () => {
    const shop = await openShop();
    await control('K-loose', 'load-sense-bled', shop);
    await lot('plug-m5', 1, shop);
    await lot('seal-22-nbr', 1, shop);
    await lot('kit-bleed', 1, shop);
    const [first] = (await options(shop)).items;
    expect(first).toMatchObject({ kits: [], cost: 0, toBuy: 0 });
    expect(first.pieces).toEqual([
      { element: 'plug-m5', quantity: 1 },
      { element: 'seal-22-nbr', quantity: 1 },
    ]);
  });

  it('counts nothing that may not be used any more by the day', async () => {
    const shop = await openShop();
    await control('K-life', 'load-sense-bled', shop);
    await lot('kit-bleed', 1, shop, { withdrawn: { from: '2099-01-01T00:00:00Z', why: 'plugs may be soft' } });
    expect((await options(shop)).items[0].kits).toEqual([{ part: 'kit-bleed', quantity: 1 }]);
    expect((await options(shop, `${asked}&by=2099-01-02`)).items[0].kits).toEqual([]);
    expect((await options(shop, `${asked}&by=2098-12-31`)).at).toBe('2098-12-31T23:59:59.000000Z');
  });

  it('is served by a pump with its control, and by a bare pump with a control that is put on it', async () => {
    const shop = await openShop();
    await pump('P-whole', { serial: 'K-whole', function: 'load-sense-bled' }, shop);
    await pump('P-bare', null, shop);
    await control('K-bench', 'load-sense', shop);
    const found = await options(shop, `${asked}&unit=pump`);
    expect(found.items.map((one: Json) => [one.pump.name, one.control.name, one.mounts, one.unit])).toEqual([
      ['P-whole', 'K-whole', false, `/v1/pumps/${maker}/P-whole`],
      ['P-bare', 'K-bench', true, `/v1/controls/${maker}/K-bench`],
    ]);
    expect(named(await options(shop, `${asked}&unit=control`))).toEqual(['K-bench']);
    expect(named(await options(shop, 'function=load-sense&size=124&rotation=clockwise&unit=pump'))).toEqual([]);
    expect(named(await options(shop, 'function=load-sense&size=83&rotation=counterclockwise&unit=pump'))).toEqual([]);
  });

  it('has the sheet of the mounting beside that of the conversion', async () => {
    const shop = await openShop();
    await pump('P-alone', null, shop);
    await control('K-alone', 'load-sense-bled', shop);
    const { best, items } = await options(shop, `${asked}&unit=pump`);
    expect(best.conversion).toMatchObject({ pump: null, to: { function: 'load-sense' } });
    expect(best.mounting).toMatchObject({ pump: { name: 'P-alone' }, from: { function: 'load-sense' } });
    expect(best.mounting.joints.map((one: Json) => one.joint)).toContain('mounting');
    expect(items[0].work.steps).toBe(best.conversion.steps.length + best.mounting.steps.length);
  });

  it('is not served by what has left, is out of use, or is elsewhere; and last by what is held', async () => {
    const [shop, other] = [await openShop(), await openShop()];
    for (const serial of ['K-gone', 'K-old', 'K-held', 'K-fine']) await control(serial, 'load-sense-bled', shop);
    await control('K-there', 'load-sense-bled', other);
    await move('delivered', { control: { maker, serial: 'K-gone' } }, shop, '02');
    const retired = {
      reference: 'R-old',
      performedAt: '2026-04-03T08:00:00Z',
      shop,
      technician: 't-17',
      reason: 'worn',
    };
    await mustGoWell(brackwater('POST', '/v1/retirements', { control: { maker, serial: 'K-old' }, ...retired }));
    const body = await conversionOf(brackwater, 'held', 'load-sense', {
      reference: 'C-held',
      performedAt: '2026-04-04T08:00:00Z',
    });
    await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, shop, torques: [] }));
    await lot('kit-bleed', 5, shop);
    const found = await options(shop);
    expect(found.items.map((one: Json) => [one.control.name, one.held])).toEqual([
      ['K-fine', false],
      ['K-held', true],
    ]);
    expect(found.items[1].control.findings).toContain('joint-not-closed');
    expect(named((await mustGoWell(ask(`${asked}&first=200`))).body)).toContain('K-there');
  });

  it('is served by what was registered in the shop and of which nothing says that it left', async () => {
    const shop = await openShop();
    const seen = { ...controlBody('load-sense'), shop };
    await mustGoWell(brackwater('PUT', `/v1/controls/${maker}/K-seen`, seen));
    expect((await options(shop)).items[0].control).toMatchObject({ name: 'K-seen', custody: 'registered' });
    await control('K-known', 'load-sense', shop);
    expect(named(await options(shop))).toEqual(['K-known', 'K-seen']);
  });

  it('is answered page by page, the best on the first alone', async () => {
    const shop = await openShop();
    for (const day of ['01', '02', '03']) await control(`K-page-${day}`, 'load-sense', shop, day);
    const first = await options(shop, `${asked}&first=2`);
    expect([named(first), first.pageInfo.hasNextPage]).toEqual([['K-page-01', 'K-page-02'], true]);
    const next = await options(shop, `${asked}&first=2&after=${first.pageInfo.endCursor}`);
    expect([named(next), next.best, next.pageInfo.hasNextPage]).toEqual([['K-page-03'], null, false]);
  });
});

describe('what is asked of the lead', () => {
  it.each([
    ['a function that the maker has not', 'function=nothing', 409, 'no-plan'],
    ['a shop that is not stated', `${asked}&shop=nowhere`, 404, 'not-found'],
    ['a day that is none', `${asked}&by=2026-02-30`, 400, 'invalid-input'],
    ['a day beyond the years', `${asked}&by=0001-01-01`, 400, 'invalid-input'],
    ['a cursor of another list', `${asked}&after=x`, 400, 'invalid-input'],
    ['a maker that has published nothing', `${asked}&maker=other-maker`, 409, 'no-plan'],
  ])('is not %s', async (_, query, status, code) => {
    const answer = await ask(query);
    expect([answer.status, answer.body.code]).toEqual([status, code]);
  });

  it("is the distributor's own stock: another sees none of it, nor do the maker's people", async () => {
    const shop = await openShop();
    await control('K-mine', 'load-sense', shop);
    expect((await mustGoWell(ask(asked, tollan))).body.items).toEqual([]);
    expect((await ask(asked, analyst)).status).toBe(403);
  });
});
