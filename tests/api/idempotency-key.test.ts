/** Source: RFC 9651 §3.3.3 (strings), which the IETF draft "The Idempotency-Key HTTP Header Field" builds on. */
import { describe, expect, test } from 'vitest';
import { problemOf, startShell } from './shell.ts';

async function send(key: string | undefined) {
  const { app, bearer } = await startShell();
  return app.inject({
    method: 'POST',
    url: '/v1/things/ardenholm/K-1',
    payload: { name: 'x' },
    headers: { ...bearer, ...(key === undefined ? {} : { 'idempotency-key': key }) },
  });
}

describe('the header Idempotency-Key', () => {
  test.each([
    ['6f1c-22', '6f1c-22'],
    ['"6f1c-22"', '6f1c-22'],
    ['  "6f1c-22" ', '6f1c-22'],
    ['a', 'a'],
    ['x'.repeat(255), 'x'.repeat(255)],
    [`"${'x'.repeat(255)}"`, 'x'.repeat(255)],
    ['"a\\"b\\\\c"', 'a"b\\c'],
    ['a"b', 'a"b'],
    ['!~', '!~'],
  ])('%s is the key %s', async (header, key) => {
    expect((await send(header)).json().key).toBe(key);
  });

  test('is asked for where it is missing', async () => {
    expect(problemOf(await send(undefined))).toMatchObject({ status: 400, code: 'missing-idempotency-key' });
  });

  test.each([
    '',
    '""',
    '"',
    '"abc',
    'a b',
    '"a b"',
    '"a", "b"',
    '"a";q=1',
    '"a\\b"',
    'é',
    'a\tb',
    'x'.repeat(256),
    `"${'x'.repeat(256)}"`,
  ])('is refused as %s', async (header) => {
    const problem = problemOf(await send(header));
    expect(problem).toMatchObject({ status: 400, code: 'invalid-input', errors: [{ header: 'Idempotency-Key' }] });
  });
});
