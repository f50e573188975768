/** The service, or a peer of it, as a process of its own. */
import { type ChildProcess, spawn } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { once } from 'node:events';
import { createServer } from 'node:net';
import { resolve } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import type { Caller } from '../../support/running-service.ts';

export const root = resolve(import.meta.dirname, '../../..');

export type Served = { readonly base: string; readonly pid: number; readonly stop: () => Promise<void> };

/** Takes PORT from the environment and answers once it is ready, or 503 before. What it says on stdout is its log and goes nowhere. */
export async function serve(
  file: string,
  env: Readonly<Record<string, string>>,
  flags: readonly string[] = [],
): Promise<Served> {
  const port = await freePort();
  const child = spawn('node', [...flags, file], {
    cwd: root,
    env: { ...process.env, ...env, PORT: String(port) },
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  await untilReady(port, child);
  return {
    base: `http://127.0.0.1:${port}`,
    pid: child.pid ?? 0,
    stop: async () => {
      if (child.exitCode !== null || child.signalCode !== null) return;
      child.kill('SIGTERM');
      await once(child, 'exit');
    },
  };
}

export async function untilReady(port: number, service: ChildProcess): Promise<void> {
  for (let tried = 0; tried < 6000; tried++) {
    if (service.exitCode !== null) throw new Error(`it ended with ${service.exitCode}`);
    const ready = await fetch(`http://127.0.0.1:${port}/readyz`).then(
      (answer) => answer.status !== 503,
      () => false,
    );
    if (ready) return;
    await pause(10);
  }
  throw new Error('it did not become ready');
}

export async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const address = server.address();
  server.close();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

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
    return { status: answer.status, headers: answer.headers, body: JSON.parse(text), text };
  };
}
