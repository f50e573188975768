/** Pictures and papers beside records: known by their content, and one distributor's alone. */
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { claimOf } from '../support/make-claims.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService, type Who } from '../support/service.ts';
import { inspectionOf, maker, onControl, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);

// The signature of a PNG (RFC 2083 section 3.1) and of a PDF (ISO 32000-1, 7.5.2), with something behind it.
const png = Buffer.concat([Buffer.from('89504e470d0a1a0a', 'hex'), Buffer.from('a picture of a seat')]);
const pdf = Buffer.from('%PDF-1.7 a scanned card');
const digestOf = (bytes: Buffer) => `sha256:${createHash('sha256').update(bytes).digest('hex')}`;

async function post(bytes: Buffer, type: string, who: Who = { distributor: 'brackwater' }) {
  const headers = { authorization: `Bearer ${await service.tokenOf(who)}`, 'content-type': type };
  const answer = await service.server.inject({ method: 'POST', url: '/v1/attachments', headers, payload: bytes });
  return { status: answer.statusCode, body: answer.json() };
}
async function get(digest: string, who: Who = { distributor: 'brackwater' }) {
  const headers = { authorization: `Bearer ${await service.tokenOf(who)}` };
  return await service.server.inject({ method: 'GET', url: `/v1/attachments/${digest}`, headers });
}

describe('a file', () => {
  it('is taken in once, named by its content, and given back byte for byte, never to be shown as a page', async () => {
    const first = await post(png, 'image/png');
    expect(first).toMatchObject({ status: 201, body: { attachment: digestOf(png), version: 1 } });
    expect(await post(png, 'IMAGE/PNG')).toEqual({ status: 200, body: first.body });
    const given = await get(digestOf(png));
    expect(given.statusCode).toBe(200);
    expect(given.rawPayload.equals(png)).toBe(true);
    expect(given.headers).toMatchObject({
      'content-type': 'image/png',
      'x-content-type-options': 'nosniff',
      'content-security-policy': "default-src 'none'; sandbox",
      'content-disposition': expect.stringMatching(/^attachment;/),
    });
  });

  it('is what its own first bytes say, of the types that are taken, and not too large', async () => {
    expect(await post(png, 'application/pdf')).toMatchObject({ status: 415, body: { code: 'unsupported-media-type' } });
    expect((await post(Buffer.from('<script>'), 'image/png')).status).toBe(415);
    expect((await post(Buffer.from('plain'), 'text/plain')).status).toBe(415);
    expect((await post(Buffer.from('{}'), 'application/json')).status).toBe(415);
    expect((await post(Buffer.alloc(0), 'image/png')).status).toBe(400);
    const large = Buffer.concat([png, Buffer.alloc(10 * 1024 * 1024)]);
    expect(await post(large, 'image/png')).toMatchObject({ status: 413, body: { code: 'body-too-large' } });
  });

  it('is its distributor’s alone: for another it is as if there were none', async () => {
    await post(pdf, 'application/pdf');
    const [own, other, none] = [
      await get(digestOf(pdf)),
      await get(digestOf(pdf), { distributor: 'tollan' }),
      await get(digestOf(Buffer.from('nothing')), { distributor: 'tollan' }),
    ];
    expect(own.statusCode).toBe(200);
    expect([other.statusCode, other.json().code]).toEqual([404, 'not-found']);
    expect([none.statusCode, none.json().code]).toEqual([404, 'not-found']);
    expect((await get('sha256:..%2F..%2Fetc%2Fpasswd')).statusCode).toBe(400);
    const mine = await post(pdf, 'application/pdf', { distributor: 'tollan' });
    expect(mine.status).toBe(201);
    expect((await get(digestOf(pdf), { distributor: 'tollan' })).statusCode).toBe(200);
  });
});

describe('a record', () => {
  it('names files that were taken in before it, and no others', async () => {
    await registerPair(brackwater, 'pictured');
    await post(png, 'image/png');
    const look = inspectionOf('pictured', { reference: 'pictured', performedAt: '2026-04-01T08:00:00Z' });
    const unknown = { ...look, attachments: [digestOf(png), digestOf(Buffer.from('not sent'))] };
    expect((await brackwater('POST', '/v1/inspections', unknown)).body.findings).toMatchObject([
      { rule: 'unknown-id', pointer: '/attachments/1' },
    ]);
    const { id } = (await mustGoWell(brackwater('POST', '/v1/inspections', { ...look, attachments: [digestOf(png)] })))
      .body;
    const record = (await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body;
    expect(record.statement.attachments).toEqual([digestOf(png)]);
  });
});

describe('a file that a claim names', () => {
  const people = { maker, scopes: ['warranty:read'] } as const;
  const file = async (words: string) => {
    const bytes = Buffer.from(`%PDF-1.7 ${words}`);
    await post(bytes, 'application/pdf');
    return digestOf(bytes);
  };

  it('or its evidence, is read by the people of the maker, and by nobody else', async () => {
    await registerPair(brackwater, 'claimed');
    const [claimed, proven] = [await file('teardown'), await file('laboratory')];
    const claim = claimOf(onControl('claimed'), 'with-file', { attachments: [claimed] });
    const { id } = (await mustGoWell(brackwater('POST', '/v1/claims', claim))).body;
    expect((await get(proven, people)).statusCode).toBe(404);
    const found = { reference: 'found', shop: 'north', performedAt: '2026-09-02T08:00:00Z', attachments: [proven] };
    const evidence = (await mustGoWell(brackwater('POST', `/v1/claims/${id}/evidence`, found))).body;
    const given = await get(claimed, people);
    expect([given.statusCode, given.payload, given.headers['content-type']]).toEqual([
      ...[200, '%PDF-1.7 teardown', 'application/pdf'],
    ]);
    expect((await get(proven, people)).statusCode).toBe(200);
    for (const digest of [claimed, proven])
      for (const who of [
        { maker: 'other-maker' },
        { distributor: 'tollan' },
        { distributor: 'tollan', maker },
      ] as const)
        expect((await get(digest, who)).statusCode).toBe(404);
    const { items } = (await mustGoWell(brackwater('GET', '/v1/accesses'))).body;
    expect(items).toMatchObject([
      { maker, operation: 'GET /v1/attachments/:digest', facts: [evidence.id] },
      { maker, operation: 'GET /v1/attachments/:digest', facts: [id] },
    ]);
  });

  it('is asked for with the scope to read; one that a record alone names stays the distributor’s', async () => {
    await registerPair(brackwater, 'recorded');
    const digest = await file('setting sheet');
    const look = inspectionOf('recorded', { reference: 'recorded', performedAt: '2026-04-01T08:00:00Z' });
    await mustGoWell(brackwater('POST', '/v1/inspections', { ...look, attachments: [digest], note: digest }));
    const note = claimOf(onControl('recorded'), 'noted', { asFound: { plate: digest } });
    await mustGoWell(brackwater('POST', '/v1/claims', note));
    expect((await get(digest, people)).statusCode).toBe(404);
    for (const who of [
      { maker, scopes: ['record:read'] },
      { distributor: 'brackwater', scopes: ['warranty:read'] },
    ] as const)
      expect((await get(digest, who)).json().code).toBe('forbidden');
  });
});
