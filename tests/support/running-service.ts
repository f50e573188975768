/** The service as its users have it: a process of its own, spoken to over HTTP, set up by the operator's commands. */
import { type ChildProcess, execFile, spawn } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { afterAll } from 'vitest';
import type { TestDatabase } from './database.ts';
import { type Caller, callerOf, freePort, untilReady } from './over-http.ts';

const root = resolve(import.meta.dirname, '../..');
const run = promisify(execFile);
const readyWithinMs = 20_000;

export type RunningService = {
  readonly base: string;
  readonly process: ChildProcess;
  /** A caller with a token of the service's local key, made by the token command. */
  readonly caller: (
    who: { distributor?: string; maker?: string; subject?: string },
    scopes: readonly string[],
  ) => Promise<Caller>;
  /** SIGTERM; gives the exit code. */
  readonly stop: () => Promise<number | null>;
};

/** Services that share a `dataDir` take each other's tokens. */
export async function startService(db: TestDatabase, dataDir = madeFolder()): Promise<RunningService> {
  return await startWith({ DATABASE_URL: db.serviceUrl, DATA_DIR: dataDir });
}

/** The service with these variables, on a port of its own; without DATABASE_URL on a Postgres of its own. */
export async function startWith(
  more: Readonly<Record<string, string>> & { DATA_DIR: string },
): Promise<RunningService> {
  const port = await freePort();
  const env = { ...process.env, PORT: String(port), LOG_LEVEL: 'error', ...more };
  const child = spawn('node', ['src/main.ts'], { cwd: root, env, stdio: ['ignore', 'inherit', 'inherit'] });
  started.push(child);
  const base = `http://127.0.0.1:${port}`;
  await untilReady(base, child, readyWithinMs);
  return {
    base,
    process: child,
    caller: async (who, scopes) => callerOf(base, await tokenFor(more.DATA_DIR, who, scopes)),
    stop: async () => await end(child, 'SIGTERM'),
  };
}

/** Sends the signal; gives the exit code, null where the signal itself ended the process. */
export async function end(child: ChildProcess, signal: NodeJS.Signals): Promise<number | null> {
  if (child.exitCode !== null || child.signalCode !== null) return child.exitCode;
  const gone = new Promise<number | null>((done) => child.once('exit', (code) => done(code)));
  child.kill(signal);
  return await gone;
}

/** A folder that is gone after the file's last test. */
export function madeFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'asfitted-service-'));
  // Where tests run as root, a Postgres in it runs as a user of its own, who must get there.
  chmodSync(folder, 0o755);
  folders.push(folder);
  return folder;
}

/** What a test that went wrong left running is ended, so that the run can end. */
const folders: string[] = [];
const started: ChildProcess[] = [];
afterAll(async () => {
  for (const child of started) await end(child, 'SIGKILL');
  for (const folder of folders) {
    endPostgresIn(folder);
    rmSync(folder, { recursive: true, force: true, maxRetries: 10, retryDelay: 100 });
  }
});

/** A service that was killed leaves its Postgres to the next one that starts in the folder. */
function endPostgresIn(folder: string): void {
  const file = join(folder, 'cluster', 'postmaster.pid');
  if (existsSync(file)) process.kill(Number(readFileSync(file, 'utf8').split('\n')[0]), 'SIGQUIT');
}

export async function addOrganisations(
  db: TestDatabase,
  organisations: Readonly<Record<string, 'maker' | 'distributor'>>,
): Promise<void> {
  await addTo({ DATABASE_URL: db.serviceUrl, DATABASE_OWNER_URL: db.ownerUrl }, organisations);
}

export async function addTo(
  more: Readonly<Record<string, string>>,
  organisations: Readonly<Record<string, 'maker' | 'distributor'>>,
): Promise<void> {
  for (const [slug, kind] of Object.entries(organisations)) {
    await run('node', ['src/cli/organisations.ts', 'add', slug, '--kind', kind], {
      cwd: root,
      env: { ...process.env, ...more },
    });
  }
}

async function tokenFor(
  dataDir: string,
  { distributor, maker, subject }: Parameters<RunningService['caller']>[0],
  scopes: readonly string[],
) {
  const args = [
    ...(distributor === undefined ? [] : ['--distributor', distributor]),
    ...(maker === undefined ? [] : ['--maker', maker]),
    ...(subject === undefined ? [] : ['--subject', subject]),
    ...scopes.flatMap((scope) => ['--scope', scope]),
  ];
  const { stdout } = await run('node', ['src/cli/token.ts', ...args], {
    cwd: root,
    env: { ...process.env, DATA_DIR: dataDir },
  });
  return stdout.trim();
}
