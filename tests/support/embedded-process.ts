import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';

export type HeldServer = { readonly serviceUrl: string; readonly ownerUrl: string; readonly adopted: boolean };

/** A Node process that holds the embedded Postgres of a folder, with next to nothing in its environment. */
export function embeddedProcess(dataDir: string): { child: ChildProcess; ready: Promise<HeldServer> } {
  const program = fileURLToPath(new URL('hold-embedded.ts', import.meta.url));
  const child = spawn(process.execPath, [program, dataDir], {
    env: { HOME: '' },
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const ready = new Promise<HeldServer>((resolve, reject) => {
    child.once('exit', (code, signal) => reject(new Error(`ended with ${signal ?? code} before it was ready`)));
    child.stdout?.once('data', (line: Buffer) => resolve(JSON.parse(line.toString()) as HeldServer));
  });
  // Whoever kills it before it is ready doesn't ask.
  ready.catch(() => {});
  return { child, ready };
}

export async function end(child: ChildProcess, signal: NodeJS.Signals): Promise<void> {
  if (child.exitCode !== null || child.signalCode !== null) return;
  child.kill(signal);
  await once(child, 'exit');
}
