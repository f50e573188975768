import { describe, expect, test } from 'vitest';
import { problemOf, startShell } from './shell.ts';

describe('health', () => {
  test('livez asks nothing, whatever the checks say', async () => {
    let asked = 0;
    const check = async () => {
      asked += 1;
      throw new Error('down');
    };
    const { app } = await startShell({ checks: { ready: { database: check }, started: { database: check } } });
    const answer = await app.inject('/livez');
    expect([answer.statusCode, answer.json(), asked]).toEqual([200, { status: 'ok' }, 0]);
  });

  test('readyz and startupz each ask their own checks, and tell which failed but not why', async () => {
    const fine = async () => {};
    const down = async () => {
      throw new Error('password authentication failed for user asfitted');
    };
    const { app, tape } = await startShell({
      checks: { ready: { database: down, keys: fine, log: down }, started: { migrations: fine } },
    });
    expect((await app.inject('/startupz')).json()).toEqual({ status: 'ok' });
    const answer = await app.inject('/readyz');
    expect(problemOf(answer)).toMatchObject({ status: 503, code: 'not-ready', failed: ['database', 'log'] });
    expect(answer.body).not.toContain('password');
    expect(
      tape
        .lines()
        .filter((line) => line['msg'] === 'not ready')
        .map((line) => line['check']),
    ).toEqual(['database', 'log']);
  });

  test('a check that never answers has failed', async () => {
    const { app } = await startShell({ checks: { ready: { database: () => new Promise(() => {}) }, started: {} } });
    expect(problemOf(await app.inject('/readyz'))).toMatchObject({ failed: ['database'] });
  });

  test('a check that throws at once has failed', async () => {
    const check = () => {
      throw new Error('no pool');
    };
    const { app } = await startShell({ checks: { ready: {}, started: { database: check } } });
    expect(problemOf(await app.inject('/startupz'))).toMatchObject({ failed: ['database'] });
  });
});
