import { describe, expect, test } from 'vitest';
import { makeLogger } from '../../src/http/logger.ts';
import { LogTape, signed, startShell } from './shell.ts';

describe('the log', () => {
  test('has one line per request: method, route, status, time, code', async () => {
    const { app, tape, bearer } = await startShell();
    await app.inject('/livez');
    await app.inject({ url: '/v1/things/ardenholm/K-1', headers: bearer });
    await app.inject('/v1/anybody');
    await app.inject('/v1/things/ardenholm/%ff');
    const lines = tape.lines().map(({ method, route, status, code, msg }) => ({ method, route, status, code, msg }));
    expect(lines).toEqual([
      { method: 'GET', route: '/livez', status: 200, code: undefined, msg: 'request' },
      { method: 'GET', route: '/v1/things/:maker/:serial', status: 200, code: undefined, msg: 'request' },
      { method: 'GET', route: '/v1/anybody', status: 401, code: 'unauthenticated', msg: 'request' },
      { method: 'GET', route: null, status: 400, code: 'malformed-request', msg: 'request' },
    ]);
    // A probe that is well is for whoever debugs: pino's levels are 20 and 30.
    expect(tape.lines().map(({ level }) => level)).toEqual([20, 30, 30, 30]);
    expect(
      tape
        .lines()
        .slice(0, 3)
        .map((line) => typeof line['ms']),
    ).toEqual(['number', 'number', 'number']);
  });

  test('never holds what was sent: header, token, key, path, query, body, or a value in a database error', async () => {
    const secret = 'canary-4711';
    const databaseError = Object.assign(new Error(`invalid input syntax for type uuid: "${secret}"`), {
      severity: 'ERROR',
      code: '22P02',
      detail: `Key (serial)=(${secret}) already exists.`,
      where: secret,
      query: `select '${secret}'`,
      parameters: [secret],
      table: 'fact',
    });
    const thrown: unknown[] = [
      databaseError,
      new Error('outer', { cause: databaseError }),
      secret,
      { message: secret },
      Object.assign(new Error('fails'), { request: secret, config: { password: secret } }),
    ];
    for (const error of thrown) {
      const { app, key, tape } = await startShell({ fail: () => error });
      const token = await signed(key, { sub: secret });
      const headers = {
        authorization: `Bearer ${token}`,
        cookie: secret,
        'x-custom': secret,
        'idempotency-key': secret,
        'user-agent': secret,
        host: secret,
        referer: secret,
        'x-request-id': secret,
        'content-type': 'application/json',
      };
      const payload = { name: secret, [secret]: secret };
      await app.inject({ method: 'POST', url: `/v1/things/x/${secret}`, headers, payload });
      await app.inject({ method: 'POST', url: `/v1/things/x/${secret}?check=${secret}&${secret}=1`, headers, payload });
      await app.inject({ method: 'POST', url: '/v1/things/x/y', headers, payload: `{"name":"${secret}",` });
      await app.inject({
        method: 'POST',
        url: '/v1/things/x/y',
        headers: { ...headers, 'content-type': secret },
        payload: secret,
      });
      await app.inject({ method: 'GET', url: `/${secret}?${secret}`, headers });
      await app.inject({ method: 'GET', url: `/${secret}/%ff`, headers });
      await app.inject({
        method: 'GET',
        url: '/v1/anybody',
        headers: { ...headers, authorization: `Bearer ${token}x` },
      });
      await app.inject({
        method: 'GET',
        url: '/v1/anybody',
        headers: { ...headers, authorization: `Basic ${secret}` },
      });
      await app.inject({ method: 'GET', url: '/fails', headers });
      expect(tape.lines().length).toBeGreaterThanOrEqual(9);
      expect(tape.text).not.toContain(secret);
      expect(tape.text).not.toContain(token.slice(0, 20));
      expect(tape.text).not.toContain(token.slice(-20));
    }
  });

  test('tells of an unexpected error what an operator needs: type, message and place, and of a database error its code and table', async () => {
    const plain = await startShell({ fail: () => new TypeError('no such thing', { cause: new Error('deeper') }) });
    await plain.app.inject('/fails');
    const [failed] = plain.tape.lines();
    expect(failed).toMatchObject({
      level: 50,
      code: 'internal',
      err: { type: 'TypeError', message: 'no such thing', cause: { type: 'Error', message: 'deeper' } },
    });
    expect(JSON.stringify(failed)).toContain('log.test.ts');

    const fault = Object.assign(new Error('x'), {
      severity: 'ERROR',
      code: '23505',
      table: 'fact',
      constraint: 'fact_pkey',
    });
    const database = await startShell({ fail: () => fault });
    await database.app.inject('/fails');
    const err = database.tape.lines()[0]?.['err'];
    expect(err).toMatchObject({ code: '23505', table: 'fact', constraint: 'fact_pkey' });
    expect(err).not.toHaveProperty('message');
  });

  test('takes a request or an answer that is logged by name, and keeps no more of it', () => {
    const tape = new LogTape();
    const logger = makeLogger({ level: 'info', destination: tape });
    const req = {
      method: 'GET',
      url: '/secret',
      headers: { authorization: 'secret' },
      body: 'secret',
      routeOptions: { url: '/x' },
    };
    logger.info({ req, res: { statusCode: 200, getHeaders: () => ({ cookie: 'secret' }), body: 'secret' } }, 'x');
    expect(tape.lines()).toMatchObject([{ req: { method: 'GET', route: '/x' }, res: { status: 200 } }]);
    expect(tape.text).not.toContain('secret');
  });

  test('is quiet at the level silent', async () => {
    const tape = new LogTape();
    makeLogger({ level: 'silent', destination: tape }).error('x');
    expect(tape.text).toBe('');
  });
});
