import { type ChildProcess, spawn } from 'node:child_process';
import { closeSync, existsSync, openSync, readFileSync, renameSync, rmSync, statSync } from 'node:fs';
import { createServer } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import type { Account } from './account.ts';
import { askServer } from './ask-server.ts';
import type { Binaries } from './binaries.ts';
import { commandOf, type PidFile, pidFileOf, readPidFile, runningServer } from './pid-file.ts';
import { socketSetting } from './socket.ts';
import { killServer } from './stop-server.ts';

export type ServerOptions = {
  /** Where it must listen, if anywhere: those who use it look for it there. */
  readonly port?: number;
  readonly cluster: string;
  readonly password: string;
  readonly binaries: Binaries;
  readonly account: Account | null;
  readonly logFile: string;
  readonly settings: Readonly<Record<string, string>>;
  readonly log: (line: string) => void;
};

/** Recovery after a crash replays the log since the last checkpoint (5 minutes by default): minutes at the worst. */
const readyWithinMs = 300_000;
/** A server that says nothing for this long is stopped. One that recovers answers, and isn't. */
const silenceMs = 10_000;
/** Left-over processes of a killed server hold its memory until they notice: starting is tried again. */
const attemptsAtMost = 10;
const betweenLooksMs = 100;
const betweenAttemptsMs = 500;
const logAtMostBytes = 10 * 1024 * 1024;

/**
 * Makes sure that a server answers on the cluster, and gives its port: one that runs already is adopted when it
 * answers with our password, and stopped when it is silent; else one is started. It is started detached, so that
 * it outlives us if we are killed, and the next start adopts it.
 */
export async function runServer(options: ServerOptions): Promise<{ port: number; adopted: boolean }> {
  const deadline = Date.now() + readyWithinMs;
  let heardAt = Date.now();
  let attempts = 0;
  let ours: Attempt | null = null;
  while (Date.now() < deadline) {
    const found = runningServer(options.cluster);
    if (found !== null) {
      const answer = found.port === null ? 'silent' : await askServer(found.port, options);
      if (answer === 'ready' && found.port !== null)
        return { port: found.port, adopted: ours?.child.pid !== found.pid };
      if (answer === 'busy') heardAt = Date.now();
      if (Date.now() - heardAt > silenceMs) {
        options.log(`the Postgres with process id ${found.pid} doesn't answer; it is stopped`);
        await killServer(options.cluster, found.pid);
      }
      await pause(betweenLooksMs);
    } else if (ours === null || ours.ended()) {
      if (attempts === attemptsAtMost) break;
      if (ours !== null) {
        removeStalePidFile(options, ours);
        await pause(betweenAttemptsMs);
      }
      attempts += 1;
      ours = await startAttempt(options, ours?.before ?? null);
      heardAt = Date.now();
    } else {
      await pause(betweenLooksMs);
    }
  }
  throw new Error(
    `Postgres didn't start on ${options.cluster}. The end of ${options.logFile}:\n${endOf(options.logFile)}`,
  );
}

type Attempt = { readonly child: ChildProcess; readonly before: PidFile | null; readonly ended: () => boolean };

/** On the port of the server before, where that was killed: those who used it look for it there. */
async function startAttempt(options: ServerOptions, earlier: PidFile | null): Promise<Attempt> {
  const { cluster, binaries, account, logFile } = options;
  const before = readPidFile(cluster) ?? earlier;
  const settings: Record<string, string> = {
    listen_addresses: '127.0.0.1',
    port: String(options.port === undefined ? await anyPort(before?.port ?? 0) : await freePort(options.port)),
    unix_socket_directories: socketSetting(cluster),
    timezone: 'UTC',
    log_timezone: 'UTC',
    ...options.settings,
  };
  if (existsSync(logFile) && statSync(logFile).size > logAtMostBytes) renameSync(logFile, `${logFile}.1`);
  const log = openSync(logFile, 'a', 0o600);
  const child = spawn(
    binaries.postgres,
    ['-D', cluster, ...Object.entries(settings).flatMap(([name, value]) => ['-c', `${name}=${value}`])],
    {
      cwd: '/',
      detached: true,
      env: { PATH: '/usr/bin:/bin', TZ: 'UTC', LC_ALL: 'C' },
      stdio: ['ignore', log, log],
      ...(account === null ? {} : { uid: account.uid, gid: account.gid }),
    },
  );
  closeSync(log);
  let failed = false;
  child.once('error', (error) => {
    failed = true;
    options.log(`Postgres can't be run: ${error.message}`);
  });
  child.unref();
  return { child, before, ended: () => failed || child.exitCode !== null || child.signalCode !== null };
}

/**
 * Postgres removes a left-over pid file by itself, unless the process id in it belongs to some other process by
 * now. Removed only when our server has just refused because of it, and nothing about it changed meanwhile.
 */
function removeStalePidFile({ cluster, log }: ServerOptions, { before }: Attempt): void {
  const now = readPidFile(cluster);
  if (now === null || before === null || now.text !== before.text) return;
  if (commandOf(now.pid).includes('postgres')) return;
  log(`${pidFileOf(cluster)} is left over from a server that is gone; it is removed`);
  rmSync(pidFileOf(cluster), { force: true });
}

/** The one that is wanted, or another where somebody has it. */
async function anyPort(wanted: number): Promise<number> {
  return await freePort(wanted).catch(() => freePort(0));
}

/** 0: whichever is free. @throws where somebody has it: also a connection that goes out from it */
function freePort(wanted: number): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer();
    server.once('error', reject);
    server.listen(wanted, '127.0.0.1', () => {
      const address = server.address();
      const port = typeof address === 'object' && address !== null ? address.port : 0;
      server.close(() => resolve(port));
    });
  });
}

function endOf(file: string): string {
  return existsSync(file) ? readFileSync(file, 'utf8').trimEnd().split('\n').slice(-15).join('\n') : '(no such file)';
}
