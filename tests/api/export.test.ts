/** A distributor's own records, streamed. CSV: RFC 4180; which beginnings a spreadsheet takes for a formula: OWASP, "CSV Injection". */
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { recordColumns } from '../../src/http/bulk/record-csv.ts';
import { type LineOutcome, outcomesIn, uploader } from '../support/bulk.ts';
import { testDatabase } from '../support/database.ts';
import { operations, undescribedLine } from '../support/described.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService, type Who } from '../support/service.ts';
import { conversionOf, inspectionOf, openShops, registerControl, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const maker = 'ardenholm';
/** More than two pages. */
const count = 450;
const told = '=1+2;"said",\r\nhe';
let converted: LineOutcome;

const ask = async (query: string, headers: Record<string, string> = {}, who: Who = { distributor: 'brackwater' }) => {
  const authorization = `Bearer ${await service.tokenOf(who)}`;
  return await service.server.inject({ url: `/v1/export/records${query}`, headers: { authorization, ...headers } });
};
const records = async (query = '') => outcomesIn((await ask(query)).payload);
const table = async (query = '') =>
  parse((await ask(`?format=csv${query}`)).payload, { columns: true, record_delimiter: '\r\n' }) as Record<
    string,
    string
  >[];

beforeAll(async () => {
  await registerPair(brackwater, '1');
  await registerControl(brackwater, '2');
  await registerControl(tollan, '3');
  const lines = Array.from({ length: count }, (_, nth) => {
    const performedAt = new Date(Date.UTC(2026, 3, 1, 0, nth)).toISOString();
    return { key: `${nth}`, kind: 'inspection', body: inspectionOf('2', { reference: `I-${nth}`, performedAt }) };
  });
  const { outcomes } = await (await uploader(service, { distributor: 'brackwater' }))(lines);
  expect(outcomes.map((one) => one.status)).toEqual(Array(count).fill(201));
  const performedAt = '2026-04-02T08:00:00Z';
  const body = await conversionOf(brackwater, '1', 'load-sense', { reference: '-1', performedAt });
  converted = (await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, note: told, workOrder: '@cmd' })))
    .body;
  await mustGoWell(tollan('POST', '/v1/inspections', inspectionOf('3', { reference: 'T', performedAt })));
});

describe('an export', () => {
  it('waits for a connection, longer than a request that can be told to come back', async () => {
    const { reading } = service.app.pools;
    const taken = await Promise.all(Array.from({ length: reading.options.max }, () => reading.connect()));
    const exported = records();
    try {
      // One after the other: by the second the export has waited longer than either.
      for (let nth = 0; nth < 2; nth++) expect((await brackwater('GET', '/v1/held')).status).toBe(503);
      await expect.poll(() => reading.waitingCount).toBe(1);
    } finally {
      for (const client of taken) client.release();
    }
    expect((await exported).length).toBe(count + 3);
  });

  it('has every record of the distributor once, and none of another', async () => {
    const all = await records();
    expect(new Set(all.map((one) => one.id)).size).toBe(count + 3);
    expect(all.map((one) => one.id)).toEqual(all.map((one) => one.id).toSorted());
    expect(all.filter((one) => one.statement.reference === 'T')).toEqual([]);
    expect(Object.entries(Object.groupBy(all, (one) => one.kind)).map(([kind, of]) => [kind, of?.length])).toEqual(
      expect.arrayContaining([
        ['registration', 2],
        ['inspection', count],
        ['conversion', 1],
      ]),
    );
  });

  it('has each as it is read alone, and as described', async () => {
    const all = await records('?kind=conversion&kind=registration');
    for (const record of all) {
      expect(record).toEqual((await mustGoWell(brackwater('GET', `/v1/records/${record.id}`))).body);
      expect(undescribedLine('Record', record)).toEqual([]);
    }
    expect(all).toHaveLength(3);
  });

  it('is cut by kind and by both times, from counted and to not', async () => {
    expect(await records('?kind=conversion')).toMatchObject([{ id: converted.id }]);
    const day = '2026-04-01T00:10:00Z';
    expect(await records(`?kind=inspection&performedTo=${day}`)).toHaveLength(10);
    expect(await records(`?kind=inspection&performedFrom=${day}`)).toHaveLength(count - 10);
    const { recordedAt } = (await records('?kind=conversion'))[0];
    expect(await records(`?recordedFrom=${recordedAt}`)).toMatchObject([{ id: converted.id }]);
    expect(await records(`?recordedTo=${recordedAt}`)).toHaveLength(count + 2);
    expect((await ask('?kind=lot')).statusCode).toBe(400);
    expect((await ask('?performedFrom=yesterday')).statusCode).toBe(400);
  });

  it('is NDJSON, or CSV where that is asked for or rather taken', async () => {
    const typeOf = async (query: string, accept = '*/*') => (await ask(query, { accept })).headers['content-type'];
    expect(await typeOf('')).toBe('application/x-ndjson');
    expect(await typeOf('', 'text/csv')).toBe('text/csv; charset=utf-8; header=present');
    expect(await typeOf('', 'text/csv;q=0.5, application/x-ndjson')).toBe('application/x-ndjson');
    expect(await typeOf('?format=csv', 'application/x-ndjson')).toBe('text/csv; charset=utf-8; header=present');
    expect(Object.keys(operations.get('get /v1/export/records')?.responses['200']?.content ?? {})).toEqual([
      'application/x-ndjson',
      'text/csv',
    ]);
  });

  it('as CSV says in columns what the record says', async () => {
    const rows = await table();
    expect(rows).toHaveLength(count + 3);
    expect(Object.keys(rows[0] ?? {})).toEqual(recordColumns.map(([name]) => name));
    expect(rows.find((row) => row['id'] === converted.id)).toMatchObject({
      ...{
        kind: 'conversion',
        maker,
        control: 'K-1',
        pump: 'P-1',
        shop: 'north',
        technician: 't-17',
        status: 'released',
      },
      ...{ performedFrom: '2026-04-02T08:00:00.000000Z', function: 'load-sense', judged: 'released', open: '' },
      removed: 'bleed-seat=orifice-0.6 x1',
      fitted: 'bleed-seat=plug-m5 x1 (L-1)',
      settings: 'pressure-limit=210 bar; differential=14 bar',
      torques: expect.stringContaining('sense-adjuster-body=61'),
    });
  });

  it('as CSV has nothing that a spreadsheet runs, and loses no line break, comma or quote', async () => {
    const row = (await table()).find((one) => one['id'] === converted.id);
    expect([row?.['reference'], row?.['workOrder'], row?.['note']]).toEqual(["'-1", "'@cmd", `'${told}`]);
    const { payload } = await ask('?format=csv&kind=conversion');
    expect(payload.split('\r\n').at(-1)).toBe('');
    expect(payload).toContain('"\'=1+2;""said"",\r\nhe"');
  });

  it('is for a distributor whose token may read', async () => {
    expect((await ask('', {}, { distributor: 'brackwater', scopes: ['report:read'] })).statusCode).toBe(200);
    expect((await ask('', {}, { distributor: 'brackwater', scopes: ['record:write'] })).statusCode).toBe(403);
    expect((await ask('', {}, { maker })).statusCode).toBe(403);
    expect(outcomesIn((await ask('', {}, { distributor: 'tollan' })).payload)).toHaveLength(2);
  });
});
