/** The command `verify`: here, and as a process of its own. */
import { execFile } from 'node:child_process';
import { fileURLToPath } from 'node:url';
import { expect } from 'vitest';
import { verify as run } from '../../src/cli/verify/verify.ts';

type Told = { readonly code: number; readonly out: string; readonly err: string };

export async function verify(...args: readonly string[]): Promise<Told> {
  const out: string[] = [];
  const err: string[] = [];
  const code = await run(args, { out: (line) => out.push(`${line}\n`), err: (text) => err.push(text) });
  const told = { code, out: out.join(''), err: err.join('') };
  // Whatever is wrong is told in sentences.
  expect(told.out + told.err).not.toMatch(/^\s+at .*:\d+/m);
  return told;
}

const root = fileURLToPath(new URL('../..', import.meta.url));

export function verifyCommand(...args: readonly string[]): Promise<Told> {
  return new Promise((resolve) => {
    execFile(process.execPath, ['src/cli/verify.ts', ...args], { cwd: root }, (error, out, err) => {
      resolve({ code: typeof error?.code === 'number' ? error.code : error === null ? 0 : -1, out, err });
    });
  });
}
