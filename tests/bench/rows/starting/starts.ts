/** How long a start takes until it answers: the service on a Postgres of its own, and that Postgres by itself. */
import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmodSync, chownSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as pause } from 'node:timers/promises';
import pg from 'pg';
import { unprivilegedAccount } from '../../../../src/store/embedded/account.ts';
import { findBinaries } from '../../../../src/store/embedded/binaries.ts';
import { removeDataDir } from '../../../../src/store/embedded/remove-data-dir.ts';
import { systemFolder } from '../../../../src/store/embedded/system-folder.ts';
import { freePort } from '../../../support/over-http.ts';
import { serve } from '../../ground/service-process.ts';

export type Start = {
  /** Milliseconds. */
  readonly ms: () => Promise<number>;
  readonly remove: () => Promise<void>;
};

/** In a folder of its own: the first start makes what the later ones find. */
export function serviceStart(): Start {
  const dataDir = madeFolder();
  return {
    ms: async () => {
      const begun = performance.now();
      // As `npm start` does, with nothing compiled before the first time.
      const compiled = join(dataDir, 'compiled');
      const service = await serve('src/main.ts', { DATA_DIR: dataDir, DATABASE_URL: '', NODE_COMPILE_CACHE: compiled });
      const ms = performance.now() - begun;
      await service.stop();
      return ms;
    },
    remove: async () => await removeDataDir(dataDir),
  };
}

export function postgresStart(): Start {
  const account = unprivilegedAccount();
  const folder = madeFolder();
  const binaries = findBinaries(
    account,
    () => (account === null ? folder : systemFolder(account)),
    () => {},
  );
  const home = join(folder, 'home');
  mkdirSync(home, { mode: 0o700 });
  if (account !== null) chownSync(home, account.uid, account.gid);
  const cluster = join(home, 'cluster');
  const run = (program: string, args: readonly string[]): ChildProcess =>
    spawn(program, args, {
      ...{ cwd: '/', stdio: 'ignore', env: { PATH: '/usr/bin:/bin', TZ: 'UTC', LC_ALL: 'C' } },
      ...(account !== null && { uid: account.uid, gid: account.gid }),
    });
  let made = false;
  return {
    ms: async () => {
      const port = await freePort();
      const begun = performance.now();
      if (!made) {
        const initdb = run(binaries.initdb, [
          '-D',
          cluster,
          '-U',
          'bench',
          '--auth=trust',
          '--locale=C',
          '--encoding=UTF8',
        ]);
        const [code] = await once(initdb, 'exit');
        if (code !== 0) throw new Error(`initdb ended with ${code}`);
      }
      made = true;
      const args = [
        '-D',
        cluster,
        '-c',
        `port=${port}`,
        '-c',
        'listen_addresses=127.0.0.1',
        '-c',
        'unix_socket_directories=',
      ];
      const server = run(binaries.postgres, args);
      await untilItAnswers(port, server);
      const ms = performance.now() - begun;
      server.kill('SIGINT');
      await once(server, 'exit');
      return ms;
    },
    remove: async () => rmSync(folder, { recursive: true }),
  };
}

async function untilItAnswers(port: number, server: ChildProcess): Promise<void> {
  for (;;) {
    if (server.exitCode !== null) throw new Error(`postgres ended with ${server.exitCode}`);
    const client = new pg.Client({ host: '127.0.0.1', port, user: 'bench', database: 'postgres' });
    client.on('error', () => {});
    const answers = await client.connect().then(
      () => true,
      () => false,
    );
    await client.end().catch(() => {});
    if (answers) return;
    await pause(10);
  }
}

function madeFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'asfitted-bench-start-'));
  chmodSync(folder, 0o755);
  return folder;
}
