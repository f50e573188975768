/** The service, or a peer of it, as a process of its own. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { resolve } from 'node:path';
import { freePort, untilReady } from '../../support/over-http.ts';

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
  const base = `http://127.0.0.1:${port}`;
  await untilReady(base, child);
  return {
    base,
    pid: child.pid ?? 0,
    stop: async () => {
      if (child.exitCode !== null || child.signalCode !== null) return;
      child.kill('SIGTERM');
      await once(child, 'exit');
    },
  };
}
