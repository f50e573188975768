import { describe, expect, test } from 'vitest';
import { Problem, type ProblemCode, problemCodes } from '../../src/errors.ts';
import { problemOf, startShell } from './shell.ts';

const thing = '/v1/things/ardenholm/K-1';

async function post(payload: unknown, headers: Record<string, string> = {}) {
  const { app, bearer } = await startShell();
  return app.inject({
    method: 'POST',
    url: thing,
    payload: payload as object,
    headers: { ...bearer, 'idempotency-key': 'k', ...headers },
  });
}

describe('what is wrong in a body is told by pointer (RFC 6901)', () => {
  const cases: [kind: string, body: object, errors: [pointer: string, detail: string][]][] = [
    ['a missing field', {}, [['/name', 'is required: text']]],
    ['a field of another type', { name: 7 }, [['/name', 'must be text, not a number']]],
    ['a null', { name: null }, [['/name', 'must be text, not null']]],
    ['text too short', { name: '' }, [['/name', 'must have at least 1 character']]],
    ['text too long', { name: 'x'.repeat(21) }, [['/name', 'must have at most 20 characters']]],
    ['a name that needs escapes', { name: 'x', 'odd/na~me': 'y' }, [['/odd~1na~0me', 'must be a number, not text']]],
    ['a word that is not on the list', { name: 'x', kind: 'spool' }, [['/kind', 'must be "plug" or "orifice"']]],
    ['an unknown field', { name: 'x', nmae: 'y' }, [['/nmae', 'is not known here']]],
    [
      'an unknown field below',
      { name: 'x', readings: [{ value: '1', unit: 'bar' }] },
      [['/readings/0/unit', 'is not known here']],
    ],
    [
      'an entry of a list',
      { name: 'x', readings: [{ value: '1' }, { value: 2 }] },
      [['/readings/1/value', 'must be text, not a number']],
    ],
    [
      'a list too long',
      { name: 'x', readings: Array(4).fill({ value: '1' }) },
      [['/readings', 'must have at most 3 entries']],
    ],
    [
      'a fraction',
      { name: 'x', readings: [{ value: '1', turns: 1.5 }] },
      [['/readings/0/turns', 'must be a whole number']],
    ],
    [
      'none of several forms',
      { name: 'x', lot: 5 },
      [['/lot', 'must be text, not a number, or must be an object, not a number']],
    ],
    [
      'the nearest of several forms',
      { name: 'x', lot: { unknown: 5 } },
      [['/lot/unknown', 'must be text, not a number']],
    ],
    [
      'a misspelt form',
      { name: 'x', lot: { unkown: 'gone' } },
      [
        ['/lot/unknown', 'is required: text'],
        ['/lot/unkown', 'is not known here'],
      ],
    ],
    [
      'the only form that has the type',
      { name: 'x', lot: { unknown: '' } },
      [['/lot/unknown', 'must have at least 1 character']],
    ],
    ['a list in place of the object', [], [['', 'must be an object, not a list']]],
  ];

  test.each(cases)('%s', async (_kind, body, errors) => {
    const problem = problemOf(await post(body));
    expect(problem).toMatchObject({ status: 400, code: 'invalid-input' });
    expect(problem.errors).toEqual(errors.map(([pointer, detail]) => ({ pointer, detail })));
  });

  test('every wrong place is told at once', async () => {
    const problem = problemOf(await post({ name: 1, kind: 'x', more: 1, readings: [{}] }));
    expect(problem.errors?.map((error) => 'pointer' in error && error.pointer).sort()).toEqual([
      '/kind',
      '/more',
      '/name',
      '/readings/0/value',
    ]);
    expect(problem.detail).toBe('4 places of the request are wrong; see errors.');
  });

  test('a body that is not there is asked for', async () => {
    const { app, bearer } = await startShell();
    const answer = await app.inject({ method: 'POST', url: thing, headers: { ...bearer, 'idempotency-key': 'k' } });
    expect(problemOf(answer)).toMatchObject({
      code: 'invalid-input',
      errors: [{ pointer: '', detail: 'is required: an object' }],
    });
  });
});

describe('what is wrong beside the body', () => {
  test('is told by parameter, of query and path alike', async () => {
    const { app, bearer } = await startShell();
    const send = (url: string) => app.inject({ method: 'POST', url, payload: { name: 'x' }, headers: bearer });
    expect(problemOf(await send(`${thing}?check=all&page=2`)).errors).toEqual([
      { parameter: 'check', detail: 'must be "only"' },
      { parameter: 'page', detail: 'is not known here' },
    ]);
    expect(problemOf(await send(`/v1/things/${'m'.repeat(21)}/K-1`)).errors).toEqual([
      { parameter: 'maker', detail: 'must have at most 20 characters' },
    ]);
    expect(problemOf(await send(`${thing}?first=1&first=2`))).toMatchObject({ errors: [{ parameter: 'first' }] });
  });

  test('is a path that nobody serves: 404', async () => {
    const { app, bearer } = await startShell();
    for (const url of [
      '/',
      '/v1',
      '/v1/things',
      `${thing}/more`,
      `${thing}/`,
      '/V1/anybody',
      '/v1//anybody',
      '/%2e%2e/etc',
    ]) {
      for (const method of ['GET', 'POST', 'DELETE'] as const) {
        const answer = await app.inject({
          method,
          url,
          headers: { ...bearer, 'content-type': 'text/odd' },
          payload: '{',
        });
        expect([url, problemOf(answer).code]).toEqual([url, 'not-found']);
      }
    }
  });

  test('is a method that the path does not take: 405 with the methods that it takes (RFC 9110 §15.5.6)', async () => {
    const { app, bearer } = await startShell();
    const put = await app.inject({ method: 'PUT', url: `${thing}?x=1`, headers: bearer, payload: 'x' });
    expect(problemOf(put)).toMatchObject({ status: 405, code: 'method-not-allowed' });
    expect(put.headers['allow']).toBe('GET, HEAD, POST');
    const livez = await app.inject({ method: 'POST', url: '/livez', payload: { a: 1 } });
    expect(problemOf(livez).code).toBe('method-not-allowed');
    expect(livez.headers['allow']).toBe('GET, HEAD');
    expect(problemOf(await app.inject({ method: 'OPTIONS', url: '/livez' })).code).toBe('method-not-allowed');
  });

  test('is NUL in path or query, which no name and no text that is kept has', async () => {
    const { app, bearer } = await startShell();
    const send = (url: string) => app.inject({ method: 'POST', url, payload: { name: 'x' }, headers: bearer });
    const detail = 'may not hold NUL (%00)';
    expect(problemOf(await send('/v1/things/ardenholm/K%00-1'))).toMatchObject({
      ...{ status: 400, code: 'invalid-input', errors: [{ parameter: 'serial', detail }] },
    });
    expect(problemOf(await send(`${thing}?check=only%00`)).errors).toContainEqual({ parameter: 'check', detail });
  });

  test('is a path that cannot be decoded, or is too long', async () => {
    const { app } = await startShell();
    expect(problemOf(await app.inject('/v1/things/ardenholm/%ff'))).toMatchObject({
      status: 400,
      code: 'malformed-request',
    });
    expect(problemOf(await app.inject('/v1/things/ardenholm/%'))).toMatchObject({
      status: 400,
      code: 'malformed-request',
    });
    const long = await app.inject(`/v1/things/ardenholm/${'x'.repeat(201)}`);
    expect(problemOf(long)).toMatchObject({ status: 414, code: 'path-too-long' });
  });
});

describe('what a use case throws', () => {
  async function thrown(error: unknown) {
    const { app, tape } = await startShell({ fail: () => error });
    return { answer: await app.inject('/fails'), tape };
  }

  test.each(Object.keys(problemCodes) as ProblemCode[])('%s keeps its code, status and title', async (code) => {
    const { answer } = await thrown(new Problem(code, 'Do that.'));
    const { status, title } = problemCodes[code];
    expect(problemOf(answer)).toMatchObject({ type: `/problems/${code}`, code, status, title, detail: 'Do that.' });
    const retryAfter = 'retryAfter' in problemCodes[code] ? String(problemCodes[code].retryAfter) : undefined;
    expect(answer.headers['retry-after']).toBe(retryAfter);
  });

  test('is told with its errors, findings and headers, and none of these displaces a standard member', async () => {
    const because = 'Nothing came out of it.';
    const looks = { pointer: '/fitted/0', expected: null, found: null, because, clearedBy: [], text: because };
    const finding = { rule: 'empty-seat', severity: 'refuse', ...looks };
    const { answer } = await thrown(
      new Problem('refused-by-rules', 'Look.', {
        errors: [{ pointer: '/fitted/0', detail: 'no' }],
        extra: { findings: [finding], status: 200, code: 'fine' },
        headers: { 'retry-after': '7' },
      }),
    );
    expect(problemOf(answer)).toMatchObject({
      status: 409,
      code: 'refused-by-rules',
      errors: [{ pointer: '/fitted/0', detail: 'no' }],
      findings: [finding],
    });
    expect(answer.headers['retry-after']).toBe('7');
  });

  const sql = 'insert into fact (id, owner) values ($1, $2) -- canary-4711';
  const databaseError = (code: string) =>
    Object.assign(new Error(`${sql}: duplicate key value violates "fact_pkey"`), {
      severity: 'ERROR',
      code,
      detail: 'Key (serial)=(canary-4711) already exists.',
      table: 'fact',
      constraint: 'fact_pkey',
      query: sql,
    });
  const wrapped = (cause: unknown) => new Error('the recording failed', { cause });
  const refused = Object.assign(new Error('connect ECONNREFUSED 10.1.2.3:5432'), { code: 'ECONNREFUSED' });

  const leaky: [kind: string, error: unknown, code: ProblemCode][] = [
    ['a database error', databaseError('23505'), 'internal'],
    ['an error with SQL in it', new Error(`syntax error at or near: ${sql}`), 'internal'],
    [
      'an error that states a status of its own',
      Object.assign(new Error(sql), { statusCode: 418, code: 'X' }),
      'internal',
    ],
    ['a text', sql, 'internal'],
    ['an object', { message: sql, toJSON: () => sql }, 'internal'],
    ['null', null, 'internal'],
    ['a refused connection', refused, 'database-unavailable'],
    ['refused connections to every address', new AggregateError([refused], sql), 'database-unavailable'],
    ['a lost connection', new Error('Connection terminated unexpectedly'), 'database-unavailable'],
    ['a pool that waited too long', new Error('timeout exceeded when trying to connect'), 'database-unavailable'],
    ['a database that shuts down', databaseError('57P01'), 'database-unavailable'],
    ['a database that starts', databaseError('57P03'), 'database-unavailable'],
    ['a broken connection, wrapped', wrapped(databaseError('08006')), 'database-unavailable'],
    ['too many connections', databaseError('53300'), 'busy'],
    ['a statement that took too long', databaseError('57014'), 'busy'],
    ['a lock not had', databaseError('55P03'), 'busy'],
    ['a deadlock, wrapped', wrapped(databaseError('40P01')), 'busy'],
  ];

  test.each(leaky)('%s leaks nothing', async (_kind, error, code) => {
    const { answer, tape } = await thrown(error);
    expect(problemOf(answer).code).toBe(code);
    const told = answer.body + JSON.stringify(answer.headers);
    for (const secret of ['canary', 'insert', 'fact', '10.1.2.3', 'terminated', 'stack', '.ts:'])
      expect(told).not.toContain(secret);
    if (problemCodes[code].status === 503) expect(answer.headers['retry-after']).toMatch(/^\d+$/);
    expect(tape.lines().some((line) => line['requestId'] === problemOf(answer).requestId)).toBe(true);
  });

  test('or answers in another shape than it promised is an internal error, without the value', async () => {
    const { app } = await startShell();
    const answer = await app.inject('/badly-answered');
    expect(problemOf(answer).code).toBe('internal');
    expect(answer.body).not.toContain('secret');
  });
});

describe('the request id', () => {
  test('is in the problem, in a header of every answer and in the line of the log', async () => {
    const { app, tape } = await startShell();
    const problem = problemOf(await app.inject('/nowhere'));
    const good = await app.inject('/livez');
    expect(good.headers['x-request-id']).toMatch(/^[0-9a-f-]{36}$/);
    const ids = tape.lines().map((line) => line['requestId']);
    expect(ids).toEqual([problem.requestId, good.headers['x-request-id']]);
  });

  test('is never taken from outside', async () => {
    const { app } = await startShell();
    const headers = { 'x-request-id': 'forged', 'request-id': 'forged', 'x-correlation-id': 'forged' };
    const answer = await app.inject({ url: '/nowhere', headers });
    expect(JSON.stringify(answer.headers) + answer.body).not.toContain('forged');
  });
});

describe('the table of codes', () => {
  test('is closed: frozen, error statuses only, one sentence of meaning each', () => {
    expect(Object.isFrozen(problemCodes)).toBe(true);
    for (const [code, entry] of Object.entries(problemCodes)) {
      expect(Object.isFrozen(entry)).toBe(true);
      expect(code).toMatch(/^[a-z]+(-[a-z]+)*$/);
      expect(entry.status).toBeGreaterThanOrEqual(400);
      expect(entry.meaning).toMatch(/^[A-Z][^.]*(?:\.[^. ][^.]*)*\.$/);
    }
  });

  test('is explained at the address that a problem gives as its type', async () => {
    const { app } = await startShell();
    for (const code of Object.keys(problemCodes) as ProblemCode[]) {
      const { status, title, meaning } = problemCodes[code];
      expect((await app.inject(`/problems/${code}`)).json()).toEqual({ code, status, title, meaning });
    }
    for (const code of ['nothing', 'toString', '__proto__']) {
      expect(problemOf(await app.inject(`/problems/${code}`)).code).toBe('not-found');
    }
  });
});
