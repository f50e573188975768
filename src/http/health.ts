/** Whether the process lives, takes requests, has started. */
import { z } from 'zod';
import { Problem } from '../errors.ts';
import type { Routes } from './access.ts';

/** Resolves where all is well; what it rejects with is logged, not answered. */
export type Check = () => Promise<unknown>;
export type Checks = Readonly<Record<string, Check>>;

/** Milliseconds. A probe that is answered late is answered wrong. */
const checkTimeout = 1_000;

const ok = { status: 'ok' } as const;

export function healthRoutes(checks: { ready: Checks; started: Checks }): Routes {
  return (app) => {
    app.get('/livez', { schema: schema('isLive', 'Whether the process answers; asks nothing else') }, async () => ok);
    app.get('/readyz', { schema: schema('isReady', 'Whether requests can be served now') }, async (request) => {
      await requireAll(checks.ready, (name, error) => request.log.warn({ err: error, check: name }, 'not ready'));
      return ok;
    });
    app.get('/startupz', { schema: schema('hasStarted', 'Whether the service has started') }, async (request) => {
      await requireAll(checks.started, (name, error) => request.log.warn({ err: error, check: name }, 'not started'));
      return ok;
    });
  };
}

const wellSchema = z.strictObject({ status: z.literal('ok') }).meta({ description: 'Yes; otherwise a problem' });

function schema(operationId: string, summary: string) {
  return { operationId, summary, tags: ['health'], response: { 200: wellSchema } };
}

async function requireAll(checks: Checks, report: (name: string, error: unknown) => void): Promise<void> {
  const results = await Promise.all(
    Object.entries(checks).map(async ([name, check]) => {
      try {
        await inTime(check);
        return { name, ok: true };
      } catch (error) {
        report(name, error);
        return { name, ok: false };
      }
    }),
  );
  const failed = results.filter((result) => !result.ok).map((result) => result.name);
  if (failed.length === 0) return;
  throw new Problem('not-ready', `Not ready: ${failed.join(', ')}.`, { extra: { failed } });
}

async function inTime(check: Check): Promise<void> {
  const late = Promise.withResolvers<never>();
  const timer = setTimeout(() => late.reject(new Error(`no answer within ${checkTimeout} ms`)), checkTimeout);
  try {
    await Promise.race([check(), late.promise]);
  } finally {
    clearTimeout(timer);
  }
}
