import { generateKeyPairSync } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { issuerVerification, localVerification } from '../../src/http/authenticate.ts';
import { badTokens } from './bad-tokens.ts';
import { audience, ed25519, issuer, type Key, now, problemOf, signed, startShell, toJwk, uuidOf } from './shell.ts';

const routes = [
  { method: 'POST', url: '/v1/things/ardenholm/K-1', payload: { name: 'x' }, headers: { 'idempotency-key': 'k' } },
  { method: 'POST', url: '/v1/things/ardenholm/K-1', payload: 'no json', headers: { 'content-type': 'text/plain' } },
  { method: 'GET', url: '/v1/things/ardenholm/K-1', headers: {} },
  { method: 'GET', url: '/v1/anybody', headers: {} },
] as const;

const keys: Key[] = [
  ed25519('k-1'),
  { kid: 'k-2', alg: 'ES256', ...generateKeyPairSync('ec', { namedCurve: 'P-256' }) },
  { kid: 'k-3', alg: 'RS256', ...generateKeyPairSync('rsa', { modulusLength: 2048 }) },
];

describe.each(keys)('with an issuer that signs by $alg', (key) => {
  let shell: Awaited<ReturnType<typeof startShell>>;

  beforeAll(async () => {
    const published = JSON.stringify({ keys: await Promise.all(keys.map(toJwk)) });
    const fetch = async () => new Response(published);
    const jwksUrl = 'https://issuer.example/keys';
    shell = await startShell({ verification: issuerVerification({ issuer, audience, jwksUrl, fetch }) });
  });
  afterAll(() => shell.app.close());

  test('a good token is accepted', async () => {
    const headers = { authorization: `Bearer ${await signed(key)}` };
    const answer = await shell.app.inject({ url: '/v1/anybody', headers });
    expect(answer.statusCode).toBe(200);
  });

  test('no bad token is accepted on any route, and every answer says so in the same way', async () => {
    const bad = await badTokens(key);
    expect(bad.length).toBeGreaterThanOrEqual(90);
    for (const { kind, authorization } of bad) {
      for (const route of routes) {
        const headers = { ...route.headers, ...(authorization === undefined ? {} : { authorization }) };
        const answer = await shell.app.inject({ ...route, headers });
        const problem = problemOf(answer);
        expect([kind, problem.status, problem.code]).toEqual([kind, 401, 'unauthenticated']);
        expect(answer.headers['www-authenticate'], kind).toMatch(/^Bearer/);
        expect(problem.detail, kind).not.toMatch(/[A-Za-z0-9_-]{40}/);
      }
    }
  });
});

describe('with the local key', () => {
  test('no bad token is accepted, nor a good one of an algorithm that the local key does not use', async () => {
    const shell = await startShell();
    for (const { kind, authorization } of await badTokens(shell.key)) {
      const headers = authorization === undefined ? {} : { authorization };
      const answer = await shell.app.inject({ url: '/v1/anybody', headers });
      expect([kind, answer.statusCode]).toEqual([kind, 401]);
    }
    const [, es256] = keys;
    const verification = localVerification({ issuer, audience, publicKey: await toJwk(es256 ?? shell.key) });
    const other = await startShell({ verification });
    const headers = { authorization: `Bearer ${await signed(es256 ?? shell.key)}` };
    expect((await other.app.inject({ url: '/v1/anybody', headers })).statusCode).toBe(401);
  });

  test('a token without a key id is accepted while one key alone can have signed it', async () => {
    const { app, key } = await startShell();
    const headers = { authorization: `Bearer ${await signed(key, {}, { kid: undefined })}` };
    expect((await app.inject({ url: '/v1/anybody', headers })).statusCode).toBe(200);
  });

  test('the scheme is read in any case and the type with its prefix (RFC 9110 §11.1, RFC 9068 §4)', async () => {
    const { app, key } = await startShell();
    const token = await signed(key, {}, { typ: 'application/AT+JWT' });
    for (const scheme of ['Bearer', 'bearer', 'BEARER', 'Bearer ']) {
      const answer = await app.inject({ url: '/v1/anybody', headers: { authorization: `${scheme} ${token}` } });
      expect([scheme, answer.statusCode]).toEqual([scheme, 200]);
    }
  });

  test('a clock may be half a minute off', async () => {
    const { app, key } = await startShell();
    for (const claims of [{ exp: now() - 20 }, { nbf: now() + 20 }]) {
      const headers = { authorization: `Bearer ${await signed(key, claims)}` };
      expect((await app.inject({ url: '/v1/anybody', headers })).statusCode).toBe(200);
    }
  });

  test('an audience may stand among others, and the client may be named as azp', async () => {
    const { app, key } = await startShell();
    const claims = { aud: ['https://other.example', audience], client_id: undefined, azp: 'portal' };
    const headers = { authorization: `Bearer ${await signed(key, claims)}` };
    const answer = await app.inject({ url: '/v1/things/ardenholm/K-1', headers });
    expect(answer.json()).toMatchObject({ client: 'portal' });
  });

  test('no mutation of a good token is accepted', async () => {
    const { app, token } = await startShell();
    const accepted: string[] = [];
    let tried = 0;
    for (let at = 0; at < token.length; at++) {
      for (const letter of ['A', 'b', '9', '-', '.', '']) {
        const mutated = token.slice(0, at) + letter + token.slice(at + 1);
        if (mutated === token) continue;
        tried += 1;
        const answer = await app.inject({ url: '/v1/anybody', headers: { authorization: `Bearer ${mutated}` } });
        if (answer.statusCode !== 401) accepted.push(mutated);
      }
    }
    expect(tried).toBeGreaterThan(2_000);
    expect(accepted).toEqual([]);
  });
});

test('an issuer may publish keys for other algorithms; tokens signed by them are not taken', async () => {
  const others: Key[] = [
    { kid: 'k-4', alg: 'ES384', ...generateKeyPairSync('ec', { namedCurve: 'P-384' }) },
    { kid: 'k-5', alg: 'PS256', ...generateKeyPairSync('rsa', { modulusLength: 2048 }) },
    { kid: 'k-6', alg: 'RS512', ...generateKeyPairSync('rsa', { modulusLength: 2048 }) },
  ];
  const published = JSON.stringify({ keys: await Promise.all([...keys, ...others].map(toJwk)) });
  const fetch = async () => new Response(published);
  const verification = issuerVerification({ issuer, audience, jwksUrl: 'https://issuer.example/keys', fetch });
  const { app } = await startShell({ verification });
  for (const key of others) {
    const answer = await app.inject({ url: '/v1/anybody', headers: { authorization: `Bearer ${await signed(key)}` } });
    expect(problemOf(answer).detail).toBe('The token is signed by an algorithm that is not taken here.');
  }
});

describe('a good token that may not do this', () => {
  const cases: [kind: string, claims: Record<string, unknown>, says: RegExp][] = [
    ['without scopes', { scope: undefined }, /lacks the scope record:write/],
    ['with an empty list of scopes', { scope: '' }, /lacks the scope record:write/],
    ['with another scope', { scope: 'record:read' }, /lacks the scope record:write/],
    ['with a scope in upper case', { scope: 'RECORD:WRITE' }, /lacks the scope record:write/],
    ['with scopes parted by commas', { scope: 'record:read,record:write' }, /lacks the scope record:write/],
    ['with a scope that only begins alike', { scope: 'record:write2' }, /lacks the scope record:write/],
    ['with scopes of another service', { scope: 'openid profile' }, /lacks the scope record:write/],
    [
      'of a distributor unknown here',
      { distributor: 'tollan' },
      /distributor tollan, which is not in this service's directory/,
    ],
    ['of a maker unknown here', { distributor: undefined, maker: 'brackwater' }, /maker brackwater, which is not/],
    ['of a known distributor and an unknown maker', { maker: 'tollan' }, /maker tollan/],
    ['of nobody', { distributor: undefined }, /neither a distributor nor a maker/],
  ];

  test.each(cases)('%s is forbidden and told why', async (_kind, claims, says) => {
    const { app, key } = await startShell();
    const headers = { authorization: `Bearer ${await signed(key, claims)}`, 'idempotency-key': 'k' };
    const answer = await app.inject({
      method: 'POST',
      url: '/v1/things/ardenholm/K-1',
      headers,
      payload: { name: 'x' },
    });
    const problem = problemOf(answer);
    expect(problem).toMatchObject({ status: 403, code: 'forbidden' });
    expect(problem.detail).toMatch(says);
  });

  test('the scope needed is named in the header too (RFC 6750 §3.1)', async () => {
    const { app, key } = await startShell();
    const headers = { authorization: `Bearer ${await signed(key, { scope: 'stock:write' })}` };
    const answer = await app.inject({ url: '/v1/things/ardenholm/K-1', headers });
    expect(answer.headers['www-authenticate']).toBe(
      'Bearer error="insufficient_scope", scope="record:read warranty:read"',
    );
    expect(problemOf(answer)).toMatchObject({ scopes: ['record:read', 'warranty:read'] });
  });

  test('any one of several scopes will do', async () => {
    const { app, key } = await startShell();
    for (const scope of ['record:read', 'warranty:read', 'openid warranty:read']) {
      const headers = { authorization: `Bearer ${await signed(key, { scope })}` };
      expect((await app.inject({ url: '/v1/things/ardenholm/K-1', headers })).statusCode).toBe(200);
    }
  });
});

test('who asks is known by subject, client and organisation', async () => {
  const { app, key } = await startShell();
  const headers = { authorization: `Bearer ${await signed(key, { maker: 'ardenholm' })}` };
  const answer = await app.inject({ url: '/v1/things/ardenholm/K-1', headers });
  expect(answer.json()).toEqual({
    subject: 'user-17',
    client: 'shop-system',
    distributor: 'brackwater',
    maker: 'ardenholm',
    organisations: { distributor: uuidOf('brackwater'), maker: uuidOf('ardenholm') },
    shown: {},
  });
});
