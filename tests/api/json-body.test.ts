import { gzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { problemOf, startShell } from './shell.ts';

async function send(payload: string | Buffer, headers: Record<string, string>) {
  const { app, bearer } = await startShell();
  return app.inject({
    method: 'POST',
    url: '/v1/things/ardenholm/K-1',
    payload,
    headers: { ...bearer, 'idempotency-key': 'k', ...headers },
  });
}

describe('the media type', () => {
  test.each([
    'application/json',
    'Application/JSON',
    'application/json; charset=utf-8',
    'application/json;charset=UTF-8',
    'application/json ; charset="utf-8"',
    'APPLICATION/JSON;CHARSET="UTF-8"',
    'application/json;',
    ' application/json ',
  ])('is taken as "%s", and the body judged all the same', async (type) => {
    expect((await send('{"name":"x"}', { 'content-type': type })).statusCode).toBe(200);
    expect(problemOf(await send('{"name":1}', { 'content-type': type })).code).toBe('invalid-input');
    expect(problemOf(await send('{"name":"x","name":"y"}', { 'content-type': type })).code).toBe('malformed-json');
  });

  test.each([
    'text/plain',
    'text/json',
    'application/x-www-form-urlencoded',
    'multipart/form-data; boundary=x',
    'application/json+x',
    'application/jsonx',
    'application/merge-patch+json',
    'application/problem+json',
    'application/json; charset=latin1',
    'application/json; charset=utf-16',
    'application/json; charset=utf-8; charset=latin1',
    'application/json; version=2',
    'application/json, text/plain',
    'application/json text/plain',
    'json',
    '*/*',
    'application/*',
    '',
    '/',
    ';',
  ])('is refused as "%s"', async (type) => {
    const answer = await send('{"name":"x"}', { 'content-type': type });
    expect(problemOf(answer)).toMatchObject({ status: 415, code: 'unsupported-media-type' });
  });

  test('is refused where none is stated', async () => {
    const { app, bearer } = await startShell();
    await app.listen({ host: '127.0.0.1', port: 0 });
    const url = `${app.listeningOrigin}/v1/things/ardenholm/K-1`;
    const body = new Blob(['{"name":"x"}']);
    const answer = await fetch(url, { method: 'POST', headers: { ...bearer, 'idempotency-key': 'k' }, body });
    expect([answer.status, await answer.json()]).toMatchObject([415, { code: 'unsupported-media-type' }]);
    await app.close();
  });

  test('is refused with a content coding', async () => {
    const headers = { 'content-type': 'application/json', 'content-encoding': 'gzip' };
    expect(problemOf(await send(gzipSync('{"name":"x"}'), headers)).status).toBe(415);
    const identity = { 'content-type': 'application/json', 'content-encoding': 'identity' };
    expect((await send('{"name":"x"}', identity)).statusCode).toBe(200);
  });
});

describe('a body that is not strict JSON is told with its place', () => {
  const cases: [kind: string, body: string | Buffer, pointer: string][] = [
    ['empty', '', ''],
    ['not JSON', '{name:"x"}', ''],
    ['cut off', '{"name":"x"', ''],
    ['followed by more', '{"name":"x"} {}', ''],
    ['with a name twice', '{"name":"x","readings":[{"value":"1","value":"2"}]}', '/readings/0/value'],
    ['with a NUL', '{"name":"a\\u0000b"}', '/name'],
    ['with half of a surrogate pair', '{"name":"\\ud800"}', '/name'],
    ['with a prototype', '{"name":"x","__proto__":{"kind":"plug"}}', '/__proto__'],
    ['nested without end', `{"name":${'['.repeat(100_000)}`, `/name${'/0'.repeat(63)}`],
    ['in bytes that are not UTF-8', Buffer.from([0x7b, 0x22, 0xff, 0x22, 0x7d]), ''],
    ['in UTF-16', Buffer.from('{"name":"x"}', 'utf16le'), ''],
  ];

  test.each(cases)('%s', async (_kind, body, pointer) => {
    const problem = problemOf(await send(body, { 'content-type': 'application/json' }));
    expect(problem).toMatchObject({ status: 400, code: 'malformed-json' });
    expect(problem.errors).toEqual([{ pointer, detail: expect.stringMatching(/.{10}/) }]);
  });
});

test('the body is kept as it was sent, beside the one with its defaults', async () => {
  const answer = await send('{"readings":[{"value":"1.50"}],"name":"x"}', { 'content-type': 'application/json' });
  expect(answer.json()).toEqual({
    key: 'k',
    sent: { readings: [{ value: '1.50' }], name: 'x' },
    body: { name: 'x', kind: 'plug', readings: [{ value: '1.50' }] },
  });
});
