/** A person is forgotten: no word of the name or own id is left, and what was recorded proves what it proved. */
import { randomUUID } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { rebuildProjections } from '../../src/app/rebuild-projections.ts';
import { recordAll } from '../../src/app/recording/record-all.ts';
import { verifyProjections } from '../../src/app/verify-projections.ts';
import { erasureBody, technicianBody } from '../../src/core/records/stock-bodies.ts';
import { withOwnerPool } from '../../src/store/owner-pool.ts';
import { uploader } from '../support/bulk.ts';
import { receiptFaults } from '../support/check-receipt.ts';
import { testDatabase } from '../support/database.ts';
import { rowCounts, rowsOf } from '../support/rows.ts';
import { edition as demo, mustGoWell } from '../support/scene.ts';
import { requestOf, testService } from '../support/service.ts';
import { controlBody, conversionOf, inspectionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const publicKey: string = (await service.server.inject('/log/key')).json().publicKey;
type Json = Awaited<ReturnType<typeof brackwater>>['body'];
const edition = '2026-2';
const performedAt = '2026-04-01T08:00:00Z';
const from = '2026-01-01T00:00:00Z';

/** Where in the whole database a word stands. */
async function tablesWith(word: string): Promise<string[]> {
  const found: string[] = [];
  for (const table of Object.keys(await rowCounts(db))) {
    const rows = await rowsOf(db, `select from ${table} t where t::text ilike $1 limit 1`, [`%${word}%`]);
    if (rows.length > 0) found.push(table);
  }
  return found;
}

const forget = (person: string, erase: string, key: string = randomUUID()) =>
  brackwater('POST', `/v1/technicians/${person}/erasures`, { erase }, key);
const record = async (id: string) => (await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body as Json;
const verified = async () =>
  (await withOwnerPool(db.ownerUrl, (pool) => verifyProjections(pool, () => {}))).differences;
const idOf = async (ownId: string) =>
  (await mustGoWell(brackwater('GET', `/v1/technicians/${ownId}`))).body.technician as string;

/** Somebody of whom every word is made of one that is nowhere else, who did all that a person can do. */
async function employ(word: string) {
  const ownId = `${word}-17`;
  const upload = await uploader(service, { distributor: 'brackwater' });
  const lines = [
    { key: `${word.length}-t`, kind: 'technician', id: ownId, body: { name: `${word} Example`, subject: `${word}@` } },
    {
      ...{ key: `${word.length}-a`, kind: 'authorisation', id: ownId },
      body: { reference: word.length.toString(), tasks: ['assemble'], from, givenBy: `teacher of ${word}` },
    },
  ];
  const { outcomes } = await upload(lines);
  const kept: { id: string; receipt: Json }[] = outcomes.map(({ id = '', receipt }) => ({ id, receipt }));
  const keep = async (method: string, path: string, body: object) => {
    const answer = (await mustGoWell(brackwater(method, path, body))).body;
    kept.push({ id: answer.id, receipt: answer.receipt });
    return answer as Json;
  };
  const number = `f${word.length}`;
  const end = { reference: number, from: '2026-12-01T00:00:00Z', reason: `${word} moves on` };
  await keep('POST', `/v1/authorisations/${kept[1]?.id}/withdrawals`, end);
  const seen = { ...controlBody('load-sense'), technician: ownId, shop: 'north' };
  await keep('PUT', `/v1/controls/ardenholm/K-${number}-shelf`, seen);
  await registerPair(brackwater, number);
  const conversion = await conversionOf(brackwater, number, 'load-sense', { reference: number, performedAt });
  const checks = conversion.checks.map((one: object) => ({ ...one, by: ownId }));
  const work = await keep('POST', '/v1/conversions', { ...conversion, technician: ownId, checks });
  const again = { ...conversion, reference: `${number}-again`, technician: ownId, checks };
  const refused = await brackwater('POST', '/v1/conversions', {
    ...again,
    found: { function: 'load-sense' },
    removed: [],
  });
  return { ownId, person: await idOf(ownId), upload, lines, kept, seen, number, work, refused };
}

describe('a person of whom everything is forgotten', () => {
  const word = 'quillfeather';

  it('is in no table any more, while records, receipts and all that is derived hold', async () => {
    const { ownId, person, upload, lines, kept, seen, number, work, refused } = await employ(word);
    expect(refused.status).toBe(409);
    expect(await tablesWith(word)).toEqual(
      expect.arrayContaining(['attempts', 'fact_privates', 'idempotency_keys', 'people', 'stock_items']),
    );
    const before = await record(work['id']);
    expect(before['people']).toEqual({ [person]: ownId });
    const erased = (await mustGoWell(forget(person, 'everything'))).body;
    expect(erased).toMatchObject({ technician: person, erase: 'everything' });
    expect(await tablesWith(word)).toEqual([]);
    const bodies = await rowsOf<{ body: string }>(db, 'select body from attempts where strpos(body, $1) > 0', [person]);
    const named = bodies.map(({ body }) => JSON.parse(body)).map((one) => [one.technician, one.checks.at(-1).by]);
    expect(named).toEqual([[person, person]]);

    // The record as it was, but that the person is called by the id that records have.
    expect(await record(work['id'])).toEqual({ ...before, people: { [person]: person } });
    for (const { id, receipt } of [...kept, erased]) {
      const faults = receiptFaults(await record(id), receipt, publicKey);
      // What was said about the person beside the record is withheld for good; the rest still holds.
      expect([id, faults.filter((one) => one !== 'private')]).toEqual([id, []]);
    }
    expect(receiptFaults(await record(work['id']), work['receipt'], publicKey)).toEqual([]);
    expect(await verified()).toEqual([]);
    await withOwnerPool(db.ownerUrl, (pool) => rebuildProjections(pool, () => {}));
    expect(await verified()).toEqual([]);

    // Sent again, what named the person is another request, and states nobody anew.
    expect((await upload(lines)).outcomes).toMatchObject([
      { status: 422, problem: { code: 'key-reused' } },
      { status: 422, problem: { code: 'key-reused' } },
    ]);
    const registered = await brackwater('PUT', `/v1/controls/ardenholm/K-${number}-shelf`, seen);
    expect(registered.status).toBe(409);
    expect((await brackwater('GET', `/v1/technicians/${ownId}`)).status).toBe(404);
  });

  it('is shown by the id that stays, alone and in the list', async () => {
    const word = 'quillfeathers';
    const { person } = await employ(word);
    await mustGoWell(forget(person, 'everything'));
    const shown = (await mustGoWell(brackwater('GET', `/v1/technicians/${person}`))).body;
    expect(shown).toMatchObject({ id: person, technician: person, name: null, subject: null });
    expect(shown.authorisations).toMatchObject([{ givenBy: null, tasks: ['assemble'] }]);
    const { items } = (await mustGoWell(brackwater('GET', '/v1/technicians?first=200'))).body;
    expect(items.filter((one: Json) => one['technician'] === person)).toMatchObject([{ id: person, name: null }]);
    const report = `{ records(first: 50) { edges { node { technician { id } } } } }`;
    const answer = (await mustGoWell(brackwater('POST', '/graphql', { query: report }))).body;
    const named = answer.data.records.edges.map(({ node }: Json) => node['technician']?.id);
    expect(named).toContain(person);
    expect(JSON.stringify(named)).not.toContain(word);
  });

  it('leaves the own id free for somebody else, who did none of that work', async () => {
    const word = 'quillfeathered';
    const { ownId, person, work } = await employ(word);
    await mustGoWell(forget(person, 'everything'));
    const stated = await mustGoWell(brackwater('PUT', `/v1/technicians/${ownId}`, { name: 'C. Example' }));
    expect([stated.status, stated.body.version]).toEqual([201, 1]);
    const other = await idOf(ownId);
    expect(other).not.toBe(person);
    expect((await record(work['id']))['people']).toEqual({ [person]: person });
    expect(await verified()).toEqual([]);
  });

  it('goes on being judged by what is said of the person later', async () => {
    const maker = await service.as({ maker: 'ardenholm' });
    const demands = { authorised: ['assemble'] };
    const published = { ...(demo as object), edition, effectiveFrom: '2026-01-02', demands };
    await mustGoWell(maker('PUT', `/v1/catalogue/ardenholm/editions/${edition}`, published));
    await mustGoWell(brackwater('PUT', '/v1/technicians/t-gone', { name: 'D. Example' }));
    const person = await idOf('t-gone');
    await registerPair(brackwater, 'gone');
    const body = await conversionOf(brackwater, 'gone', 'load-sense', { reference: 'gone', performedAt });
    const sent = { ...body, edition, technician: 't-gone', sheet: undefined };
    const { id } = (await mustGoWell(brackwater('POST', '/v1/conversions', sent))).body;
    await mustGoWell(forget(person, 'everything'));
    expect((await record(id))['status']).toBe('held');
    const leave = { reference: 'after', tasks: ['assemble'], from };
    await mustGoWell(brackwater('POST', `/v1/technicians/${person}/authorisations`, leave));
    expect((await record(id))['status']).toBe('released');
  });
});

describe('a name that is forgotten', () => {
  it('is gone with its fingerprints, and nothing else is', async () => {
    await mustGoWell(brackwater('PUT', '/v1/technicians/t-named', { name: 'Tarnfeather', subject: 'user-named' }));
    const person = await idOf('t-named');
    const prints = async () =>
      (await rowsOf<{ fingerprint: string }>(db, `select fingerprint from stock_items where key = 't-named'`))[0];
    expect((await prints())?.fingerprint).toMatch(/^[0-9a-f]{64}$/);
    const { id } = (await mustGoWell(forget(person, 'name'))).body;
    expect(await tablesWith('tarnfeather')).toEqual([]);
    expect(await prints()).toEqual({ fingerprint: '' });
    const shown = (await mustGoWell(brackwater('GET', '/v1/technicians/t-named'))).body;
    expect(shown).toMatchObject({ id: 't-named', technician: person, name: null, subject: 'user-named', version: 1 });
    expect(await record(id)).toMatchObject({ kind: 'erasure', statement: { technician: person, erase: 'name' } });
    expect(await verified()).toEqual([]);
    // Stated again it is a new version of the same person.
    const again = { name: 'E. Example', subject: 'user-named' };
    expect((await mustGoWell(brackwater('PUT', '/v1/technicians/t-named', again))).body.version).toBe(2);
    expect(await idOf('t-named')).toBe(person);
  });
});

describe('to forget', () => {
  it('is a fact that is kept once for one key, and judged and not done with check=only', async () => {
    await mustGoWell(brackwater('PUT', '/v1/technicians/t-once', { name: 'F. Example' }));
    const person = await idOf('t-once');
    const path = `/v1/technicians/${person}/erasures`;
    const only = await mustGoWell(brackwater('POST', `${path}?check=only`, { erase: 'everything' }, null));
    expect(only.body).toEqual({ technician: person, erase: 'everything' });
    expect((await mustGoWell(brackwater('GET', '/v1/technicians/t-once'))).body.name).toBe('F. Example');
    const first = await mustGoWell(forget(person, 'everything', 'once'));
    await mustGoWell(brackwater('PUT', '/v1/technicians/t-once', { name: 'G. Example' }));
    const again = await mustGoWell(forget(person, 'everything', 'once'));
    expect([again.text, again.headers.get('idempotency-replayed')]).toEqual([first.text, 'true']);
    expect((await mustGoWell(brackwater('GET', '/v1/technicians/t-once'))).body.name).toBe('G. Example');
  });

  it('is for the distributor of the person alone', async () => {
    await mustGoWell(brackwater('PUT', '/v1/technicians/t-own', { name: 'H. Example' }));
    const person = await idOf('t-own');
    const theirs = await tollan('POST', `/v1/technicians/${person}/erasures`, { erase: 'everything' });
    const nowhere = await tollan('POST', `/v1/technicians/${randomUUID()}/erasures`, { erase: 'everything' });
    expect([theirs.status, theirs.body.detail]).toEqual([nowhere.status, nowhere.body.detail]);
    expect(theirs.status).toBe(404);
    expect((await brackwater('POST', '/v1/technicians/t-own/erasures', { erase: 'name' })).status).toBe(400);
    expect((await brackwater('POST', `/v1/technicians/${person}/erasures`, { erase: 'all' })).status).toBe(400);
    const scopeless = await service.as({ distributor: 'brackwater', scopes: ['record:write', 'record:read'] });
    expect((await scopeless('POST', `/v1/technicians/${person}/erasures`, { erase: 'name' })).status).toBe(403);
    expect((await mustGoWell(brackwater('GET', '/v1/technicians/t-own'))).body.name).toBe('H. Example');
  });

  it('in a batch comes after what names the person before it, and before what does after it', async () => {
    const { app } = service;
    await mustGoWell(brackwater('PUT', '/v1/technicians/t-turn', { name: 'I. Example' }));
    await registerPair(brackwater, 'turn');
    const person = await idOf('t-turn');
    const upload = await uploader(service, { distributor: 'brackwater' });
    const inspection = (reference: string) => ({
      ...{ key: reference, kind: 'inspection' },
      body: { ...inspectionOf('turn', { reference, performedAt }), technician: 't-turn' },
    });
    const { outcomes } = await upload([
      inspection('turn-1'),
      { key: 'turn-2', kind: 'erasure', id: person, body: { erase: 'everything' } },
      inspection('turn-3'),
      { key: 'turn-4', kind: 'technician', id: 't-turn', body: { name: 'J. Example' } },
      inspection('turn-5'),
    ]);
    expect(outcomes.map((one) => one.status)).toEqual([201, 201, 409, 201, 201]);
    const people = [await record(outcomes[0]?.id ?? ''), await record(outcomes[4]?.id ?? '')].map(
      (one) => one['people'],
    );
    const other = await idOf('t-turn');
    expect(people).toEqual([{ [person]: person }, { [other]: 't-turn' }]);

    // While somebody else states the person: whichever comes second begins again and sees the other.
    for (let round = 0; round < 10; round++) {
      const ownId = `t-meet-${round}`;
      await mustGoWell(brackwater('PUT', `/v1/technicians/${ownId}`, { name: 'before' }));
      const sent = { erase: 'everything' };
      const erasure = { kind: 'erasure' as const, person: await idOf(ownId), body: erasureBody.parse(sent), sent };
      const name = { name: `after ${round}` };
      const statement = { kind: 'technician' as const, id: ownId, body: technicianBody.parse(name), sent: name };
      const who = { distributor: 'brackwater' as const };
      const recording = { ...app, pool: app.pools.recording };
      const [forgotten, stated] = await Promise.all([
        recordAll(recording, [requestOf(app, who, erasure)]),
        recordAll(recording, [requestOf(app, who, statement, { key: null })]),
      ]);
      expect([round, forgotten[0]?.kind, stated[0]?.kind]).toEqual([round, 'kept', 'kept']);
    }
    expect(await verified()).toEqual([]);
  });
});
