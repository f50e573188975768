import { spawn } from 'node:child_process';
import { randomBytes } from 'node:crypto';
import { chownSync, existsSync, mkdirSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Account } from './account.ts';
import type { Binaries } from './binaries.ts';
import type { Place } from './place.ts';

export const superuser = 'asfitted_superuser';

/**
 * Runs initdb where there is no cluster yet. It works in a folder beside, which is renamed at the end: a cluster
 * exists whole or not at all, and of two starters the slower one takes the other's. Nothing unfinished is kept.
 */
export async function makeCluster(
  place: Place,
  binaries: Binaries,
  account: Account | null,
  syncs: boolean,
): Promise<void> {
  if (!existsSync(place.cluster)) {
    mkdirSync(place.home, { recursive: true, mode: account === null ? 0o700 : 0o755 });
    const unfinished = join(place.home, `.new-${randomBytes(6).toString('hex')}`);
    try {
      await runInitdb(unfinished, place, binaries, account, syncs);
      renameSync(join(unfinished, 'cluster'), place.cluster);
    } catch (error) {
      if (!existsSync(place.cluster)) throw error;
    } finally {
      rmSync(unfinished, { recursive: true, force: true });
    }
  }
  // Only now is it sure that nobody needs these: whoever still works in one finds the cluster there instead.
  for (const name of readdirSync(place.home)) {
    // Retried: the initdb of a killed starter may still be writing there.
    if (name.startsWith('.new-')) rmSync(join(place.home, name), { recursive: true, force: true, maxRetries: 5 });
  }
}

async function runInitdb(
  folder: string,
  place: Place,
  binaries: Binaries,
  account: Account | null,
  syncs: boolean,
): Promise<void> {
  const passwordFile = join(folder, 'password');
  mkdirSync(folder, { mode: 0o700 });
  writeFileSync(passwordFile, `${place.passwords.superuser}\n`, { mode: 0o600 });
  if (account !== null) {
    for (const path of [folder, passwordFile]) chownSync(path, account.uid, account.gid);
  }
  await run(binaries.initdb, account, [
    `--pgdata=${join(folder, 'cluster')}`,
    `--username=${superuser}`,
    `--pwfile=${passwordFile}`,
    '--auth=scram-sha-256',
    '--encoding=UTF8',
    // Postgres's own collation: text sorts the same on every machine and after every upgrade of its C library.
    '--locale=C',
    '--locale-provider=builtin',
    '--builtin-locale=C.UTF-8',
    '--no-instructions',
    ...(syncs ? [] : ['--no-sync']),
  ]);
}

function run(program: string, account: Account | null, args: string[]): Promise<void> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, args, {
      cwd: '/',
      env: { PATH: '/usr/bin:/bin', TZ: 'UTC', LC_ALL: 'C' },
      stdio: ['ignore', 'pipe', 'pipe'],
      ...(account === null ? {} : { uid: account.uid, gid: account.gid }),
    });
    let output = '';
    const collect = (chunk: Buffer) => {
      output = `${output}${chunk.toString()}`.slice(-4000);
    };
    child.stdout.on('data', collect);
    child.stderr.on('data', collect);
    child.once('error', reject);
    child.once('close', (code, signal) => {
      if (code === 0) resolve();
      else reject(new Error(`initdb ended with ${signal ?? code}:\n${output.trim()}`));
    });
  });
}
