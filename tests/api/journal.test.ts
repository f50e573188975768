/** The access journal: what the maker's people were shown of a distributor's records is there for that distributor to see. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, maker, openShops, registerPair } from '../support/shop.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const analyst = await service.as({ maker, scopes: ['warranty:read', 'report:read'], subject: 'ana', client: 'desk' });
type Json = Awaited<ReturnType<Caller>>['body'];

const journal = async (shop: Caller, query = ''): Promise<Json> =>
  (await mustGoWell(shop('GET', `/v1/accesses${query}`))).body;
async function work(number: string): Promise<string> {
  await registerPair(brackwater, number);
  const frame = { reference: `C-${number}`, performedAt: '2026-04-02T08:00:00Z' };
  const body = await conversionOf(brackwater, number, 'load-sense', frame);
  return (await mustGoWell(brackwater('POST', '/v1/conversions', body))).body.id;
}

describe('a read by the people of the maker', () => {
  it('of a record is journalled for whose it is, and for nobody else', async () => {
    const record = await work('seen');
    await mustGoWell(analyst('GET', `/v1/records/${record}`));
    const [latest] = (await journal(brackwater)).items;
    expect(latest).toMatchObject({ maker, operation: 'GET /v1/records/:id' });
    expect(latest.facts).toContain(record);
    expect((await journal(tollan)).items).toEqual([]);
  });

  it('is kept with who it was and by which program, which is not shown', async () => {
    await mustGoWell(analyst('GET', `/v1/records/${await work('who')}`));
    const { text } = await brackwater('GET', '/v1/accesses');
    expect([text.includes('"ana"'), text.includes('"desk"')]).toEqual([false, false]);
    const kept = await rowsOf(db, `select distinct subject, client from accesses`);
    expect(kept).toEqual([{ subject: 'ana', client: 'desk' }]);
  });

  it.each([
    ['a history', (number: string) => `/v1/controls/${maker}/K-${number}/history`],
    ['the reach of a lot', () => `/v1/reach?lot=${maker}/L-1`],
  ])('of %s is journalled with the records that it showed', async (what, path) => {
    const number = what.replaceAll(' ', '-');
    const record = await work(number);
    await mustGoWell(analyst('GET', path(number)));
    expect((await journal(brackwater)).items[0].facts).toContain(record);
  });

  it('is turned by cursors of its own alone, and each page follows the one before', async () => {
    const [first] = (await journal(brackwater, '?first=1')).items;
    const rest = (await journal(brackwater, `?after=${first.id}`)).items;
    expect(rest.map(({ id }: Json) => id)).toEqual(
      (await journal(brackwater)).items.slice(1).map(({ id }: Json) => id),
    );
    for (const alien of ['01a21365-9446-717e-87fc-bf504e2449a3', 'x'])
      expect(await brackwater('GET', `/v1/accesses?after=${alien}`)).toMatchObject({
        ...{ status: 400, body: { code: 'invalid-input', errors: [{ parameter: 'after' }] } },
      });
    expect((await tollan('GET', `/v1/accesses?after=${first.id}`)).status).toBe(400);
  });

  it('of a stream is journalled page by page, before each goes out', async () => {
    const record = await work('stream');
    const token = await service.tokenOf({ maker, scopes: ['warranty:read'] });
    const headers = { authorization: `Bearer ${token}`, accept: 'application/x-ndjson' };
    const streamed = await service.server.inject({ method: 'GET', url: `/v1/reach?lot=${maker}/L-1`, headers });
    expect(streamed.body).toContain(record);
    const [latest] = (await journal(brackwater)).items;
    expect([latest.operation, latest.facts.includes(record)]).toEqual(['GET /v1/reach', true]);
  });

  it('by GraphQL is journalled too', async () => {
    const record = await work('graph');
    const query = `{ record(id: "${record}") { id kind } }`;
    await mustGoWell(analyst('POST', '/graphql', { query }));
    const [latest] = (await journal(brackwater)).items;
    expect([latest.operation, latest.facts.includes(record)]).toEqual(['POST /graphql', true]);
  });

  it('is not shown where it can not be journalled', async () => {
    const record = await work('closed');
    await withSuperuser(db.superuserUrl, (client) => client.query('revoke insert on accesses from asfitted_recorder'));
    const refused = await analyst('GET', `/v1/records/${record}`);
    expect([refused.status, refused.text.includes(record)]).toEqual([500, false]);
    await withSuperuser(db.superuserUrl, (client) => client.query('grant insert on accesses to asfitted_recorder'));
    await mustGoWell(analyst('GET', `/v1/records/${record}`));
  });

  it('that shows nothing of a distributor leaves nothing; nor does its own reading', async () => {
    const before = (await journal(brackwater)).items.length;
    const record = await work('own');
    await mustGoWell(brackwater('GET', `/v1/records/${record}`));
    await mustGoWell(analyst('GET', `/v1/catalogue/${maker}/editions/2026-1`));
    expect((await analyst('GET', `/v1/records/${record.replace(/^./, 'f')}`)).status).toBe(404);
    expect((await journal(brackwater)).items).toHaveLength(before);
  });
});

describe('the journal', () => {
  it('is read page by page, the latest first, and by time', async () => {
    const record = await work('pages');
    for (let times = 0; times < 3; times++) await mustGoWell(analyst('GET', `/v1/records/${record}`));
    const first = await journal(brackwater, '?first=2');
    const next = await journal(brackwater, `?first=1&after=${first.pageInfo.endCursor}`);
    const ids = [...first.items, ...next.items].map((one: Json) => one.id);
    expect(ids).toEqual(ids.toSorted().reverse());
    expect(new Set(ids).size).toBe(3);
    const [, second] = first.items;
    expect((await journal(brackwater, `?to=${first.items[0].at}`)).items[0].id).toBe(second.id);
    expect((await journal(brackwater, `?from=${first.items[0].at}`)).items).toHaveLength(1);
  });

  it('is the distributor’s: the maker’s people don’t read it', async () => {
    expect((await analyst('GET', '/v1/accesses')).status).toBe(403);
    expect((await brackwater('GET', '/v1/accesses?after=x')).status).toBe(400);
  });
});
