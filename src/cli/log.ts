/**
 * `npm run -s log -- compare [--checkpoint FILE]`: makes the log again from the database, holds it against a checkpoint that
 * was kept elsewhere and against LOG_DIR, and writes LOG_DIR anew.
 * `npm run -s log -- begin-anew --after FILE --reason TEXT`: begins a log that follows the one of that checkpoint.
 *
 * Variables are those of the service. Exits 1, and says what to do, where the database is not what was signed.
 */
import { readFile } from 'node:fs/promises';
import { parseArgs } from 'node:util';
import type { App } from '../app/context.ts';
import { beginAnew } from '../app/log/begin-anew.ts';
import { compareLog } from '../app/log/compare.ts';
import { loadConfig } from '../config.ts';
import { startEmbedded } from '../store/embedded/start-embedded.ts';
import { loadLogKeys } from '../store/local-keys.ts';
import { migrate } from '../store/migrate.ts';
import { closePools, openPools } from '../store/pools.ts';
import { appOf } from '../wire.ts';

const usage = `usage: npm run -s log -- compare [--checkpoint FILE]
       npm run -s log -- begin-anew --after FILE --reason TEXT`;

const work = asked(process.argv.slice(2));
if (work === null) {
  console.error(usage);
  process.exitCode = 2;
} else {
  try {
    await withApp(async (app) => console.log(await work(app)));
  } catch (error) {
    console.error(error instanceof Error ? error.message : error);
    process.exitCode = 1;
  }
}

function asked(args: string[]): ((app: App) => Promise<string>) | null {
  const [command, ...rest] = args;
  const { checkpoint, after, reason } = optionsIn(rest) ?? {};
  if (command === 'compare' && optionsIn(rest) !== null && after === undefined && reason === undefined)
    return async (app) => await compare(app, checkpoint ?? null);
  if (command === 'begin-anew' && after !== undefined && reason !== undefined && checkpoint === undefined)
    return async (app) => await begin(app, after, reason);
  return null;
}

function optionsIn(args: string[]) {
  const text = { type: 'string' } as const;
  try {
    return parseArgs({ args, options: { checkpoint: text, after: text, reason: text }, strict: true }).values;
  } catch {
    return null;
  }
}

async function compare(app: App, file: string | null): Promise<string> {
  const { origin, size, compared, files } = await compareLog(app, file === null ? null : await readFile(file, 'utf8'));
  return `${origin}: ${size} leaves, the first ${compared} as they were signed; ${files} files written`;
}

async function begin(app: App, file: string, reason: string): Promise<string> {
  const { origin, size } = await beginAnew(app, { after: await readFile(file, 'utf8'), reason });
  return `${origin}: begun, with ${size} leaves`;
}

async function withApp(work: (app: App) => Promise<void>): Promise<void> {
  const config = loadConfig();
  const { dataDir, log, databaseUrl, signingKeyFiles } = config;
  const database = databaseUrl === null ? await startEmbedded({ dataDir, log: console.error }) : null;
  try {
    if (database !== null) await migrate({ ownerUrl: database.ownerUrl, log: console.error });
    const keys = await loadLogKeys({ files: signingKeyFiles, dataDir, ...log });
    const pools = openPools({ serviceUrl: databaseUrl ?? database?.serviceUrl ?? '', onLost: () => {} });
    try {
      await work(appOf(pools, keys, { dataDir, logDir: log.directory }));
    } finally {
      await closePools(pools);
    }
  } finally {
    await database?.stop();
  }
}
