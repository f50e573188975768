import { describe, expect, test } from 'vitest';
import { askerOf, publicRoutes, type Routes, withAnyScope, withScope } from '../../src/http/access.ts';
import { signed, startShell } from './shell.ts';

const nested: Routes = (app) => {
  app.register(
    withScope(['record:read', 'warranty:read'], (outer) => {
      outer.get('/outer', async () => 'outer');
      outer.register(
        withScope('report:read', (inner) => {
          inner.get('/inner', async () => 'inner');
        }),
      );
    }),
  );
};

describe('scopes are declared by wrapping routes', () => {
  test.each([
    ['record:read', 200, 403],
    ['warranty:read', 200, 403],
    ['report:read', 403, 403],
    ['record:read report:read', 200, 200],
    ['warranty:read report:read', 200, 200],
    ['stock:write', 403, 403],
  ])('with "%s" the outer route answers %i and the nested one %i', async (scope, outer, inner) => {
    const { app, key } = await startShell({ routes: nested });
    const headers = { authorization: `Bearer ${await signed(key, { scope })}` };
    expect((await app.inject({ url: '/outer', headers })).statusCode).toBe(outer);
    expect((await app.inject({ url: '/inner', headers })).statusCode).toBe(inner);
    expect((await app.inject({ method: 'HEAD', url: '/inner', headers })).statusCode).toBe(inner);
  });

  test('and are stated in the description as alternatives', async () => {
    const { app } = await startShell({ routes: nested });
    const { paths } = (await app.inject('/openapi.json')).json();
    expect(paths['/outer'].get.security).toEqual([{ bearer: ['record:read'] }, { bearer: ['warranty:read'] }]);
    expect(paths['/inner'].get.security).toEqual([
      { bearer: ['record:read', 'report:read'] },
      { bearer: ['warranty:read', 'report:read'] },
    ]);
    expect(paths['/livez'].get.security).toEqual([]);
  });

  test('or any scope of the service will do', async () => {
    const routes: Routes = (app) => {
      app.register(
        withAnyScope((scoped) => {
          scoped.get('/any', async () => 'any');
        }),
      );
    };
    const { app, key } = await startShell({ routes });
    for (const [scope, status] of [
      ['organisation:write', 200],
      ['openid', 403],
      ['', 403],
    ] as const) {
      const headers = { authorization: `Bearer ${await signed(key, { scope })}` };
      expect([scope, (await app.inject({ url: '/any', headers })).statusCode]).toEqual([scope, status]);
    }
  });

  test('the service does not start with a route that is wrapped in nothing', async () => {
    const { app } = await startShell({
      routes: (rest) => {
        rest.get('/v1/open', async () => 'open');
      },
    });
    await expect(app.ready()).rejects.toThrow('no access is declared for GET /v1/open');
  });

  test('nor with one that is public and scoped at once', async () => {
    const { app } = await startShell({
      routes: (rest) => {
        rest.register(
          publicRoutes((open) => {
            open.register(
              withScope('record:read', (both) => {
                both.get('/x', async () => 'x');
              }),
            );
          }),
        );
      },
    });
    await expect(app.ready()).rejects.toThrow('/x is public and takes no scope');
    const { app: other } = await startShell({
      routes: (rest) => {
        rest.register(
          withScope('record:read', (scoped) => {
            scoped.register(
              publicRoutes((both) => {
                both.get('/x', async () => 'x');
              }),
            );
          }),
        );
      },
    });
    await expect(other.ready()).rejects.toThrow("/x takes a scope and can't be public");
  });

  test('a public route that asks who asks is a mistake, not an open door', async () => {
    const { app } = await startShell({
      routes: (rest) => {
        rest.register(
          publicRoutes((open) => {
            open.get('/who', async (request) => askerOf(request).subject);
          }),
        );
      },
    });
    expect((await app.inject('/who')).statusCode).toBe(500);
  });
});
