/** A caller of the service over HTTP, as a shop system or an analyst's program would be one. */
import { randomUUID } from 'node:crypto';
import type { Outcome } from './shapes.ts';

export type Caller = {
  readonly get: <T>(path: string) => Promise<T>;
  /** Null: it is not there, or not yet. */
  readonly find: <T>(path: string) => Promise<T | null>;
  readonly text: (path: string, accept: string) => Promise<string>;
  readonly put: (path: string, body: unknown) => Promise<void>;
  /** The answer whatever its status: a refusal is an answer too. */
  readonly post: (path: string, body: unknown) => Promise<{ status: number; body: Outcome }>;
};

export function callerFor(base: string, token: string): Caller {
  const send = async (method: string, path: string, body?: unknown) => {
    const answer = await fetch(`${base}${path}`, {
      method,
      headers: {
        authorization: `Bearer ${token}`,
        ...(body !== undefined && { 'content-type': 'application/json' }),
        ...(method === 'POST' && { 'idempotency-key': randomUUID() }),
      },
      ...(body !== undefined && { body: JSON.stringify(body) }),
    });
    return { status: answer.status, body: (await answer.json()) as unknown };
  };
  const mustGoWell = async (method: string, path: string, body?: unknown) => {
    const answer = await send(method, path, body);
    if (answer.status >= 300) throw new Error(`${method} ${path}: ${answer.status} ${JSON.stringify(answer.body)}`);
    return answer.body;
  };
  return {
    get: async <T>(path: string) => (await mustGoWell('GET', path)) as T,
    find: async <T>(path: string) => {
      const { status, body } = await send('GET', path);
      if (status >= 300 && status !== 404) throw new Error(`GET ${path}: ${status} ${JSON.stringify(body)}`);
      return status === 404 ? null : (body as T);
    },
    text: async (path, accept) => {
      const answer = await fetch(`${base}${path}`, { headers: { authorization: `Bearer ${token}`, accept } });
      const text = await answer.text();
      if (!answer.ok) throw new Error(`GET ${path}: ${answer.status} ${text}`);
      return text;
    },
    put: async (path, body) => {
      await mustGoWell('PUT', path, body);
    },
    post: async (path, body) => (await send('POST', path, body)) as { status: number; body: Outcome },
  };
}
