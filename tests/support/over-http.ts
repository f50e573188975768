/** A service, or a peer of it, that is a process of its own: its port, when it is ready, and how it is spoken to. */
import type { ChildProcess } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { once } from 'node:events';
import { createServer } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';

// biome-ignore lint/suspicious/noExplicitAny: answers are read as JSON, field by field
export type Answer = { readonly status: number; readonly headers: Headers; readonly body: any; readonly text: string };
export type Caller = (method: string, path: string, body?: unknown, key?: string) => Promise<Answer>;

/** @param wanted 0: any. @throws where somebody has it */
export async function freePort(wanted = 0): Promise<number> {
  const server = createServer().listen(wanted, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  await once(server, 'close');
  return typeof address === 'object' && address !== null ? address.port : 0;
}

/** Until it answers, and not that it is not ready. @throws where it ends, or takes longer */
export async function untilReady(base: string, child: ChildProcess, withinMs = 60_000): Promise<void> {
  const deadline = Date.now() + withinMs;
  for (;;) {
    const isReady = await fetch(`${base}/readyz`).then(
      ({ status }) => status !== 503,
      () => false,
    );
    if (isReady) return;
    if (child.exitCode !== null || Date.now() > deadline)
      throw new Error(`the service did not become ready (exit code ${child.exitCode})`);
    await pause(10);
  }
}

/** With a key of its own for every POST that is given none. */
export function callerOf(base: string, token: string): Caller {
  return async (method, path, body, key) => {
    const answer = await fetch(`${base}${path}`, {
      method,
      headers: {
        authorization: `Bearer ${token}`,
        ...(body !== undefined && { 'content-type': 'application/json' }),
        ...(method === 'POST' && { 'idempotency-key': key ?? randomUUID() }),
      },
      ...(body !== undefined && { body: JSON.stringify(body) }),
    });
    const text = await answer.text();
    const isText = answer.headers.get('content-type')?.startsWith('text/plain') === true;
    return { status: answer.status, headers: answer.headers, body: isText ? text : JSON.parse(text), text };
  };
}
