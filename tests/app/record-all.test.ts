/** The recording path on arrays, against Postgres. */
import { randomUUID } from 'node:crypto';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recordAll } from '../../src/app/recording/record-all.ts';
import type { Asked, Outcome, Request } from '../../src/app/recording/request.ts';
import { checkEdition } from '../../src/core/catalogue/check-edition.ts';
import { fingerprint } from '../../src/core/log/fingerprint.ts';
import { receiptSchema, verifyReceipt } from '../../src/core/log/receipt.ts';
import { publicKeyOf } from '../../src/core/log/signature.ts';
import { addOrganisation } from '../../src/store/add-organisation.ts';
import { loadSigner } from '../../src/store/local-keys.ts';
import { closePools, openPools } from '../../src/store/pools.ts';
import { appOf } from '../../src/wire.ts';
import { testDatabase } from '../support/database.ts';
import { edition } from '../support/scene.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
const pools = openPools({ serviceUrl: db.serviceUrl, onLost: () => {} });
const folder = mkdtempSync(join(tmpdir(), 'asfitted-app-'));
const signer = await loadSigner({ dataDir: folder });
const app = appOf(pools, { signers: [signer], former: [] }, { dataDir: folder, logDir: `${folder}/log` });
const recording = { ...app, pool: pools.recording };
const [brackwater, tollan, ardenholm] = [randomUUID(), randomUUID(), randomUUID()];

beforeAll(async () => {
  await addOrganisation(db.ownerUrl, { id: brackwater, slug: 'brackwater', kind: 'distributor', name: 'B' });
  await addOrganisation(db.ownerUrl, { id: tollan, slug: 'tollan', kind: 'distributor', name: 'T' });
  await addOrganisation(db.ownerUrl, { id: ardenholm, slug: 'ardenholm', kind: 'maker', name: 'A' });
  const checked = checkEdition(edition);
  if (!('edition' in checked)) throw new Error('the demo edition has problems');
  const [published] = await recordAll(recording, [
    asked({ kind: 'edition', maker: 'ardenholm', edition: '2026-1', checked: checked.edition }, edition, {
      owner: ardenholm,
    }),
  ]);
  expect(published?.kind).toBe('kept');
});
afterAll(() => closePools(pools));

function asked(what: Asked, sent: unknown, more: Partial<Request> = {}): Request {
  const frame = { owner: brackwater, client: 'c', subject: 's', sent, route: what.kind, key: null, checkOnly: false };
  return { ...what, ...frame, fact: app.effects.newId(), ...more } as Request;
}
const shop = (id: string, name: string, more: Partial<Request> = {}) =>
  asked({ kind: 'shop', id, body: { name } }, { name }, more);
const intake = (reference: string, more: Partial<Request> = {}) => {
  const body = { reference, performedAt: '2026-05-01T08:00:00Z', shop: 'north', quantity: 3 };
  return asked({ kind: 'intake', maker: 'ardenholm', number: 'L-1', body }, body, more);
};
const kept = (outcome: Outcome | undefined) => {
  if (outcome?.kind !== 'kept') throw new Error(JSON.stringify(outcome));
  return JSON.parse(outcome.answer) as { id: string; receipt: unknown; version?: number };
};
const count = async (table: string, where = 'true') =>
  await withSuperuser(db.superuserUrl, async (client) => {
    const { rows } = await client.query<{ n: string }>(`select count(*) as n from ${table} where ${where}`);
    return Number(rows[0]?.n);
  });

describe('a batch', () => {
  it('keeps equal ids of two distributors apart', async () => {
    const requests = [brackwater, tollan].flatMap((owner) => [
      shop('north', owner, { owner }),
      asked({ kind: 'technician', id: 't-1', body: { name: owner } }, { name: owner }, { owner }),
      asked(
        { kind: 'lot', maker: 'ardenholm', number: 'L-1', body: { part: 'kit-remote' } },
        { part: 'kit-remote' },
        { owner },
      ),
    ]);
    const outcomes = await recordAll(recording, requests);
    expect(outcomes.map((one) => one.kind)).toEqual(Array(6).fill('kept'));
    expect(await count('stock_items', `key = 'north' and owner = '${tollan}' and statement like '%${tollan}%'`)).toBe(
      1,
    );
    expect(await count('people', "own_id = 't-1'")).toBe(2);
  });

  it('with one request that the database refuses keeps all the others', async () => {
    const poison = shop('poison', 'x', { fact: 'not a uuid' });
    const good = Array.from({ length: 20 }, (_, nth) => shop(`yard-${nth}`, 'yard'));
    const outcomes = await recordAll(recording, [...good.slice(0, 10), poison, ...good.slice(10)]);
    expect(outcomes.map((one) => one.kind)).toEqual([...Array(10).fill('kept'), 'failed', ...Array(10).fill('kept')]);
    expect(await count('stock_items', "key like 'yard-%'")).toBe(20);
    expect(await count('stock_items', "key = 'poison'")).toBe(0);
  });

  it('with one key twice keeps one and answers it again; with one reference twice refuses the second', async () => {
    const key = 'twice';
    const [first, again, other] = await recordAll(recording, [
      intake('IN-1', { key }),
      intake('IN-1', { key }),
      intake('IN-1', { key: 'another' }),
    ]);
    expect(again).toMatchObject({ kind: 'kept', replayed: true, answer: first?.kind === 'kept' ? first.answer : '' });
    expect(other).toMatchObject({ kind: 'refused', refusal: { code: 'refused-by-rules' } });
    expect(await count('intakes')).toBe(1);
    expect(await count('attempts', "kind = 'intake'")).toBe(1);
  });

  it('states one thing twice as two versions', async () => {
    const [one, two] = await recordAll(recording, [shop('east', 'first'), shop('east', 'second')]);
    expect([kept(one).version, kept(two).version]).toEqual([1, 2]);
  });
});

describe('a key', () => {
  it('of another client or distributor is another key', async () => {
    const outcomes = await recordAll(recording, [
      intake('IN-2', { key: 'k' }),
      intake('IN-3', { key: 'k', client: 'd' }),
      intake('IN-2', { key: 'k', owner: tollan }),
    ]);
    expect(outcomes.map((one) => one.kind === 'kept' && !one.replayed)).toEqual([true, true, true]);
  });

  it('of a refused request is free: posted again when the cause is gone it is judged afresh', async () => {
    const body = { reference: 'IN-9', performedAt: '2026-05-01T08:00:00Z', shop: 'nowhere', quantity: 1 };
    const request = () => asked({ kind: 'intake', maker: 'ardenholm', number: 'L-1', body }, body, { key: 'free' });
    const [refused] = await recordAll(recording, [request()]);
    expect(refused?.kind).toBe('refused');
    await recordAll(recording, [shop('nowhere', 'now it is')]);
    const [now] = await recordAll(recording, [request()]);
    expect(now).toMatchObject({ kind: 'kept', replayed: false });
  });
});

describe('what is only checked', () => {
  it('writes nothing, refused or not', async () => {
    const tables = [
      'facts',
      'attempts',
      'outbox',
      'staged_leaves',
      'idempotency_keys',
      'record_references',
      'stock_items',
    ];
    const before = await Promise.all(tables.map((table) => count(table)));
    await recordAll(recording, [intake('IN-50', { checkOnly: true }), intake('IN-1', { checkOnly: true })]);
    expect(await Promise.all(tables.map((table) => count(table)))).toEqual(before);
  });
});

describe('a receipt', () => {
  it('verifies with the public key alone, and no longer when one digit of it is changed', async () => {
    const [outcome] = await recordAll(recording, [shop('west', 'yard')]);
    const receipt = receiptSchema.parse(kept(outcome).receipt);
    const key = publicKeyOf(signer.publicKey);
    expect(verifyReceipt(receipt, key)).toBe(true);
    const entry = `${receipt.entry.startsWith('0') ? '1' : '0'}${receipt.entry.slice(1)}`;
    expect(verifyReceipt({ ...receipt, entry }, key)).toBe(false);
    expect(await count('staged_leaves', `entry = '${receipt.entry}'`)).toBe(1);
    expect(await count('outbox', `fact = '${kept(outcome).id}'`)).toBe(1);
  });
});

describe('the fingerprint of a body', () => {
  it('is the same for the same JSON spelled differently', () => {
    expect(fingerprint({ a: 1, b: [2] })).toBe(fingerprint(JSON.parse('{ "b": [2.0], "a": 1e0 }')));
  });
});
