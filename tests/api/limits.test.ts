import { once } from 'node:events';
import { connect } from 'node:net';
import { afterEach, describe, expect, test } from 'vitest';
import { problemSchema } from '../../src/http/problems.ts';
import { limits } from '../../src/http/server.ts';
import { problemOf, startShell } from './shell.ts';

const opened: { close: () => PromiseLike<unknown> }[] = [];

afterEach(async () => {
  for (const app of opened.splice(0)) await app.close();
});

async function listening() {
  const shell = await startShell();
  await shell.app.listen({ host: '127.0.0.1', port: 0 });
  opened.push(shell.app);
  const address = shell.app.server.address();
  if (address === null || typeof address === 'string') throw new Error('the server has no port');
  return { ...shell, port: address.port };
}

/** Sends bytes as they are and gives what comes back until the other side closes. */
async function raw(port: number, bytes: string): Promise<string> {
  const socket = connect(port, '127.0.0.1');
  let text = '';
  socket.setEncoding('utf8');
  socket.on('data', (chunk: string) => {
    text += chunk;
  });
  socket.on('error', () => {});
  socket.write(bytes);
  await once(socket, 'close');
  return text;
}

function problemIn(text: string) {
  const [head = '', body = ''] = text.split('\r\n\r\n', 2);
  expect(head).toMatch(/content-type: application\/problem\+json$/im);
  return problemSchema.parse(JSON.parse(body));
}

test('every limit is set on the server, none is left to a default that means "none"', async () => {
  const { app } = await startShell();
  expect(app.initialConfig).toMatchObject({
    requestTimeout: 30_000,
    connectionTimeout: 60_000,
    keepAliveTimeout: 72_000,
    bodyLimit: 262_144,
    requestIdHeader: false,
    routerOptions: { maxParamLength: 200 },
  });
  expect(app.server.requestTimeout).toBe(limits.requestTimeout);
  expect(app.server.headersTimeout).toBe(limits.headersTimeout);
  expect(app.server.timeout).toBe(limits.connectionTimeout);
  expect(app.server.keepAliveTimeout).toBe(limits.keepAliveTimeout);
});

describe('a body', () => {
  test('may be as long as the limit and no longer', async () => {
    const { app, bearer } = await startShell();
    const send = (length: number) =>
      app.inject({
        method: 'POST',
        url: '/v1/things/ardenholm/K-1',
        headers: { ...bearer, 'content-type': 'application/json' },
        payload: '{"name":1}'.padEnd(length, ' '),
      });
    expect(problemOf(await send(limits.bodyLimit)).code).toBe('invalid-input');
    expect(problemOf(await send(limits.bodyLimit + 1))).toMatchObject({ status: 413, code: 'body-too-large' });
  });

  test('is cut off at the limit where its length is not stated', async () => {
    const { port, token } = await listening();
    const chunk = 'x'.repeat(0x8000);
    const head = `POST /v1/things/a/b HTTP/1.1\r\nHost: x\r\nAuthorization: Bearer ${token}\r\nContent-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n`;
    const answer = await raw(port, head + `8000\r\n${chunk}\r\n`.repeat(9));
    expect(problemIn(answer)).toMatchObject({ status: 413, code: 'body-too-large' });
  });

  test('is not read at all without a token', async () => {
    const { port } = await listening();
    const head =
      'POST /v1/things/a/b HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: 100\r\nConnection: close\r\n\r\n';
    expect(problemIn(await raw(port, head))).toMatchObject({ status: 401 });
  });
});

describe('what is not valid HTTP is answered as a problem too', () => {
  test.each([
    ['nonsense', 'nonsense\r\n\r\n', 400, 'malformed-request'],
    ['an unknown method', 'FETCH / HTTP/1.1\r\nHost: x\r\n\r\n', 400, 'malformed-request'],
    [
      'two lengths',
      'POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n',
      400,
      'malformed-request',
    ],
    [
      'a length and chunks',
      'POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 1\r\nTransfer-Encoding: chunked\r\n\r\n',
      400,
      'malformed-request',
    ],
    [
      'headers without end',
      `GET /livez HTTP/1.1\r\nHost: x\r\nX: ${'y'.repeat(20_000)}\r\n\r\n`,
      431,
      'headers-too-large',
    ],
  ])('%s', async (_kind, bytes, status, code) => {
    const { port } = await listening();
    const answer = await raw(port, bytes);
    expect(answer).toMatch(new RegExp(`^HTTP/1.1 ${status} `));
    expect(problemIn(answer)).toMatchObject({ status, code });
  });
});

test('a name in a path may be long, and one that is too long is told so', async () => {
  const { app, bearer } = await startShell();
  const ask = (length: number) => app.inject({ url: `/v1/things/ardenholm/${'x'.repeat(length)}`, headers: bearer });
  expect((await ask(200)).statusCode).toBe(200);
  expect(problemOf(await ask(201)).code).toBe('path-too-long');
});

test('a request without Host is answered as a problem (RFC 9112 §3.2), and an expectation is passed over', async () => {
  const { port } = await listening();
  const close = 'Connection: close\r\n\r\n';
  expect(problemIn(await raw(port, `GET /livez HTTP/1.1\r\n${close}`))).toMatchObject({
    ...{ status: 400, code: 'malformed-request', detail: 'Send the header Host.' },
  });
  expect(await raw(port, `GET /livez HTTP/1.0\r\n${close}`)).toMatch(/^HTTP\/1\.1 200 /);
  expect(await raw(port, `GET /livez HTTP/1.1\r\nHost: x\r\nExpect: more\r\n${close}`)).toMatch(/^HTTP\/1\.1 200 /);
});

describe('the address of the asker', () => {
  const forwarded = { 'x-forwarded-for': '203.0.113.7' };
  const ask = async (trustProxy: string[], remoteAddress: string) => {
    const { app } = await startShell({ trustProxy });
    return (await app.inject({ url: '/where', headers: forwarded, remoteAddress })).json();
  };

  test('is that of the connection, whatever a header says', async () => {
    expect(await ask([], '10.0.0.5')).toEqual({ ip: '10.0.0.5' });
  });

  test('is believed from a proxy in a trusted range only', async () => {
    expect(await ask(['10.0.0.0/8'], '10.0.0.5')).toEqual({ ip: '203.0.113.7' });
    expect(await ask(['10.0.0.0/8'], '192.0.2.1')).toEqual({ ip: '192.0.2.1' });
  });
});

test('a request that comes while the service stops is told to come again, as a problem', async () => {
  const { app, port } = await listening();
  const socket = connect(port, '127.0.0.1').setEncoding('utf8');
  // The second request has begun, so that its connection isn't idle when the service stops.
  socket.write('GET /livez HTTP/1.1\r\nHost: x\r\n\r\nGET /livez HTTP/1.1\r\nHo');
  const [first] = await once(socket, 'data');
  expect(first).toMatch(/^HTTP\/1.1 200 /);
  const closing = app.close();
  await new Promise((resolve) => setImmediate(resolve));
  socket.write('st: x\r\n\r\n');
  const [second] = await once(socket, 'data');
  expect(second).toMatch(/^HTTP\/1.1 503 /);
  expect(second).toMatch(/retry-after: 1/i);
  expect(problemSchema.parse(JSON.parse(second.split('\r\n\r\n')[1] ?? ''))).toMatchObject({ code: 'busy' });
  await closing;
});
