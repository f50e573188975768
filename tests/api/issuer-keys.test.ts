import { createServer, type Server, type ServerResponse } from 'node:http';
import { afterEach, describe, expect, test } from 'vitest';
import { issuerVerification } from '../../src/http/authenticate.ts';
import { audience, ed25519, issuer, type Key, problemOf, signed, startShell, toJwk } from './shell.ts';

const servers: Server[] = [];

afterEach(() => {
  for (const server of servers.splice(0)) {
    server.closeAllConnections();
    server.close();
  }
});

/** A real key server on the loopback that counts how often it is asked. */
async function keyServer(answer: (response: ServerResponse) => void): Promise<{ url: string; asked: () => number }> {
  let asked = 0;
  const server = createServer((_request, response) => {
    asked += 1;
    answer(response);
  });
  servers.push(server);
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('the key server has no port');
  return { url: `http://127.0.0.1:${address.port}/keys`, asked: () => asked };
}

async function publishing(keys: () => Key[]) {
  return keyServer(async (response) => {
    response.setHeader('content-type', 'application/jwk-set+json');
    response.end(JSON.stringify({ keys: await Promise.all(keys().map(toJwk)) }));
  });
}

async function shellFor(jwksUrl: string) {
  const shell = await startShell({ verification: issuerVerification({ issuer, audience, jwksUrl }) });
  return async (token: string) =>
    shell.app.inject({ url: '/v1/anybody', headers: { authorization: `Bearer ${token}` } });
}

describe('the keys of the issuer', () => {
  test('are fetched when they are first needed and then kept', async () => {
    const key = ed25519('k-1');
    const server = await publishing(() => [key]);
    const ask = await shellFor(server.url);
    expect(server.asked()).toBe(0);
    for (let i = 0; i < 20; i++) expect((await ask(await signed(key))).statusCode).toBe(200);
    expect(server.asked()).toBe(1);
  });

  test('are fetched at most three times in a burst of 10,000 unknown key ids, none of which is accepted', async () => {
    const key = ed25519('k-1');
    const stranger = ed25519('k-stranger');
    const server = await publishing(() => [key]);
    const ask = await shellFor(server.url);
    const token = await signed(stranger);
    const [, payload, signature] = token.split('.');
    const statuses = new Set<number>();
    for (let batch = 0; batch < 100; batch++) {
      const answers = Array.from({ length: 100 }, (_, i) => {
        const header = { alg: 'EdDSA', typ: 'at+jwt', kid: `k-${batch}-${i}` };
        return ask(`${Buffer.from(JSON.stringify(header)).toString('base64url')}.${payload}.${signature}`);
      });
      for (const answer of await Promise.all(answers)) statuses.add(answer.statusCode);
    }
    expect([...statuses]).toEqual([401]);
    expect(server.asked()).toBeGreaterThanOrEqual(1);
    expect(server.asked()).toBeLessThanOrEqual(3);
    expect((await ask(await signed(key))).statusCode).toBe(200);
  });

  test('may be several, told apart by their ids; without an id none is guessed', async () => {
    const keys = [ed25519('k-1'), ed25519('k-2')];
    const ask = await shellFor((await publishing(() => keys)).url);
    for (const key of keys) expect((await ask(await signed(key))).statusCode).toBe(200);
    const [first, second] = keys;
    if (first === undefined || second === undefined) throw new Error('two keys were made');
    expect((await ask(await signed({ ...first, kid: second.kid }))).statusCode).toBe(401);
    expect((await ask(await signed(first, {}, { kid: undefined }))).statusCode).toBe(401);
  });

  test.each<[string, (response: ServerResponse) => void]>([
    ['an error', (response) => response.writeHead(500).end('no')],
    ['a redirect', (response) => response.writeHead(302, { location: '/elsewhere' }).end()],
    ['no JSON', (response) => response.end('<html>')],
    ['JSON that is no key set', (response) => response.end('{"keys":"none"}')],
    ['a cut connection', (response) => response.destroy()],
  ])('that answer with %s make it 503, which is no fault of the token', async (_kind, answer) => {
    const ask = await shellFor((await keyServer(answer)).url);
    const response = await ask(await signed(ed25519('k-1')));
    expect(problemOf(response)).toMatchObject({ status: 503, code: 'token-keys-unavailable' });
    expect(response.headers['retry-after']).toBe('5');
  });

  test('that cannot be reached make it 503, and a malformed token still 401 without asking for them', async () => {
    const server = await publishing(() => []);
    for (const each of servers.splice(0)) await new Promise((resolve) => each.close(resolve));
    const ask = await shellFor(server.url);
    expect((await ask(await signed(ed25519('k-1')))).statusCode).toBe(503);
    expect((await ask('a.b.c')).statusCode).toBe(401);
    expect((await ask(await signed(ed25519('k-1'), {}, { alg: 'EdDSA', typ: 'at+jwt' }))).statusCode).toBe(503);
  });
});
