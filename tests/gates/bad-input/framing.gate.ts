/** Bytes that are no HTTP, or hardly: sent over a socket, because nothing else lets them through. Source: RFC 9112. */
import { once } from 'node:events';
import { type AddressInfo, connect } from 'node:net';
import { beforeAll, expect, it } from 'vitest';
import { problemCodes } from '../../../src/errors.ts';
import { problemSchema } from '../../../src/http/problems.ts';
import { testDatabase } from '../../support/database.ts';
import { rowCounts } from '../../support/rows.ts';
import { testService } from '../../support/service.ts';
import { gate, tell } from '../gate-options.ts';
import { randomFrom } from '../random.ts';

const db = await testDatabase();
const service = await testService(db, { rememberTokens: true });
let port = 0;
let authorization = '';
beforeAll(async () => {
  await service.server.listen({ port: 0, host: '127.0.0.1' });
  port = (service.server.server.address() as AddressInfo).port;
  authorization = `Authorization: Bearer ${await service.tokenOf({ distributor: 'brackwater' })}`;
});

/** Everything that comes back until the connection ends, or nothing comes for a while. */
async function exchange(sent: Buffer): Promise<string> {
  const socket = connect(port, '127.0.0.1');
  const chunks: Buffer[] = [];
  socket.on('data', (chunk) => chunks.push(chunk));
  socket.on('error', () => {});
  await once(socket, 'connect');
  // What is refused is often cut off: no error here.
  const closed = new Promise((done) => socket.once('close', done));
  socket.end(sent);
  socket.setTimeout(2_000, () => socket.destroy());
  await closed;
  return Buffer.concat(chunks).toString('latin1');
}

/** One after the other; where there is none, one with status 0. */
function answersIn(text: string): { status: number; head: string; body: string }[] {
  const end = text.indexOf('\r\n\r\n');
  if (end < 0) return [{ status: 0, head: text, body: '' }];
  const head = text.slice(0, end);
  const status = Number(/^HTTP\/1\.1 (\d{3})/.exec(head)?.[1] ?? 0);
  const length = Number(/^content-length: (\d+)/im.exec(head)?.[1] ?? 0);
  const body = Buffer.from(text.slice(end + 4, end + 4 + length), 'latin1').toString('utf8');
  const rest = text.slice(end + 4 + length);
  return [{ status, head, body }, ...(rest.startsWith('HTTP/') ? answersIn(rest) : [])];
}

const put = (headers: readonly string[], body = '{"name": "x"}') =>
  [
    `PUT /v1/shops/framing HTTP/1.1`,
    'Host: x',
    authorization,
    'Content-Type: application/json',
    ...headers,
    '',
    body,
  ].join('\r\n');

/** Each is to be refused, or answered by nothing at all. */
const frames: readonly (() => string)[] = [
  () => 'hello\r\n\r\n',
  () => 'GET\r\n\r\n',
  () => 'GET /livez HTTP/9.9\r\nHost: x\r\n\r\n',
  () => 'GET /livez HTTP/1.1\r\n\r\n',
  () => 'GET /livez HTTP/1.1\r\nHost x\r\n\r\n',
  () => 'GET /li vez HTTP/1.1\r\nHost: x\r\n\r\n',
  () => 'GET /livez\u0000 HTTP/1.1\r\nHost: x\r\n\r\n',
  () => 'GET /livez HTTP/1.1\r\nHost: x\r\nX: a\u0000b\r\n\r\n',
  () => 'GET /livez HTTP/1.1\r\nHost: x\r\n: x\r\n\r\n',
  () => 'GET /livez HTTP/1.1\r\nHost: x\r\nBad name: x\r\n\r\n',
  () => `GET /livez HTTP/1.1\r\nHost: x\r\nX: ${'x'.repeat(40_000)}\r\n\r\n`,
  () => `GET /${'x'.repeat(40_000)} HTTP/1.1\r\nHost: x\r\n\r\n`,
  () => `${'X'.repeat(300)} / HTTP/1.1\r\nHost: x\r\n\r\n`,
  () => 'PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n',
  () => '\u0016\u0003\u0001\u0002\u0000\u0001\u0000\u0001\u00fc\u0003\u0003',
  () => 'CONNECT x:80 HTTP/1.1\r\nHost: x\r\n\r\n',
  () => 'OPTIONS * HTTP/1.1\r\nHost: x\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n\r\n',
  () => put(['Content-Length: -1']),
  () => put(['Content-Length: x']),
  () => put(['Content-Length: 1e1']),
  () => put(['Content-Length: 13', 'Content-Length: 14']),
  () => put(['Content-Length: 13', 'Transfer-Encoding: chunked']),
  () => put(['Content-Length: 500']),
  () => put(['Content-Length: 99999999999999999999']),
  () => put(['Transfer-Encoding: gzip']),
  () => put(['Transfer-Encoding: chunked'], 'x\r\n{}\r\n0\r\n\r\n'),
  () => put(['Transfer-Encoding: chunked'], '-1\r\n{}\r\n0\r\n\r\n'),
  () => put(['Transfer-Encoding: chunked'], 'ffffffffffffffffff\r\n{}\r\n'),
  () => put(['Transfer-Encoding: chunked'], '5\r\n{}\r\n0\r\n\r\n'),
  () => put(['Transfer-Encoding: chunked'], 'd\r\n{"name": "x"}'),
  () => put([`Content-Length: ${300 * 1024}`], `{"name": "${'x'.repeat(300 * 1024 - 12)}"}`),
];

it('is refused as a problem or not answered at all, and the service stays up', async () => {
  const before = await rowCounts(db);
  const random = randomFrom(gate.seed);
  const answers: Record<string, number> = {};
  const allowed = ['Expect: something', 'Expect: 100-continue', 'Connection: Upgrade\r\nUpgrade: websocket'];
  // Each as it is, and with a byte of its first line or headers changed at random.
  const all = frames.flatMap((frame) => {
    const text = Buffer.from(frame(), 'latin1');
    const changed = Array.from({ length: 4 }, () => {
      const copy = Buffer.from(text);
      copy[random.below(Math.min(copy.length, 24))] = random.below(256);
      return { bytes: copy, isForbidden: false };
    });
    return [{ bytes: text, isForbidden: true }, ...changed];
  });
  for (const header of allowed) {
    const text = `GET /livez HTTP/1.1\r\nHost: x\r\n${header}\r\n\r\n`;
    all.push({ bytes: Buffer.from(text), isForbidden: false });
  }
  for (const { bytes, isForbidden } of all) {
    for (const { status, head, body } of answersIn(await exchange(bytes))) {
      answers[status] = (answers[status] ?? 0) + 1;
      const said = `${JSON.stringify(bytes.toString('latin1').slice(0, 120))} → ${head.slice(0, 60)}`;
      expect([said, status < 500, isForbidden && status >= 200 && status < 300]).toEqual([said, true, false]);
      if (status < 400) continue;
      expect([said, head.toLowerCase().includes('content-type: application/problem+json')]).toEqual([said, true]);
      const { code } = problemSchema.parse(JSON.parse(body));
      expect([said, problemCodes[code].status]).toEqual([said, status]);
    }
  }
  expect(await rowCounts(db)).toEqual(before);
  expect((await service.server.inject('/livez')).statusCode).toBe(200);
  tell(`${all.length} requests that are no HTTP, or hardly (0: no answer): ${JSON.stringify(answers)}`);
});
