/**
 * Gives staged leaves their places. One at a time among all instances, each run whole or not at all: what is published
 * lags a run behind what is signed, and nothing is signed before it is compared with what is published.
 */
import { type Checkpoint, signCheckpoint } from '../../core/log/checkpoint.ts';
import { Frontier } from '../../core/log/frontier.ts';
import { hashOfLeaf } from '../../core/log/hash.ts';
import { hashesIn } from '../../core/log/tiles.ts';
import {
  checkpointAt,
  currentLog,
  insertCheckpoint,
  insertLeaves,
  insertLog,
  isAnyStaged,
  type LogRow,
  moveLog,
  readEntries,
  takeLog,
  takeStaged,
} from '../../store/sql/log.ts';
import { type Tx, withTransaction } from '../../store/transaction.ts';
import type { App } from '../context.ts';
import { followsPath, publish, readPublished } from './published.ts';
import { LogRefused } from './refused.ts';

/** Leaves of one transaction. */
export const atOnce = 4_096;

const timeouts = { statementMs: 30_000, idleMs: 60_000, transactionMs: 120_000 };

/**
 * Until all that waited when it began has its place and is published. What comes meanwhile waits for the next call, with
 * what comes until then: runs without a pause would make files of every few leaves, and never end while others record.
 * @returns how many leaves got a place
 * @throws LogRefused where the database is not what the published log was made from
 */
export async function sequenceAll(app: App, most = atOnce): Promise<number> {
  let sequenced = 0;
  while (await isWorkLeft(app)) {
    const done = await run(app, most);
    // Another instance is at it.
    if (done === null) break;
    sequenced += done;
    if (done === most) continue;
    if (done > 0) await run(app, 0);
    break;
  }
  return sequenced;
}

async function run(app: App, most: number): Promise<number | null> {
  return await withTransaction(app.pools.jobs, { role: 'jobs', orgs: [], timeouts }, async (tx) =>
    sequenceSome(tx, app, most),
  );
}

async function isWorkLeft(app: App): Promise<boolean> {
  const context = { role: 'jobs' as const, orgs: [], readOnly: true };
  const { log, isAny } = await withTransaction(app.pools.jobs, context, async (tx) => ({
    log: await currentLog(tx),
    isAny: await isAnyStaged(tx),
  }));
  if (log === null || isAny) return true;
  return (await readPublished(app.log.files, app.log.keys))?.size !== log.size;
}

async function sequenceSome(tx: Tx, app: App, most: number): Promise<number | null> {
  const [signer] = app.log.signers;
  if (signer === undefined) throw new Error('the log has no key');
  const origin = signer.name;
  if ((await currentLog(tx)) === null && (await insertLog(tx, { number: 1, origin, follows: null }))) {
    await signHead(tx, app, 1, { origin, size: 0, root: new Frontier().root() });
  }
  const log = await takeLog(tx);
  if (log === null) return null;
  if (log.origin !== origin)
    throw new LogRefused(`the log is called ${log.origin} and the key that signs ${origin}: set LOG_NAME`);
  await publishSigned(tx, app, log);
  const leaves = await takeStaged(tx, most);
  if (leaves.length === 0) return 0;
  const frontier = Frontier.of(log.size, hashesIn(log.frontier));
  for (const { entry } of leaves) frontier.add(hashOfLeaf(Buffer.from(entry, 'hex')));
  await insertLeaves(tx, log.number, log.size, leaves);
  await signHead(tx, app, log.number, { origin, size: frontier.size, root: frontier.root() });
  await moveLog(tx, log.number, frontier.size, Buffer.concat(frontier.nodes()));
  return leaves.length;
}

/** Keeps the checkpoint that is signed here; it is published in the next run. */
export async function signHead(tx: Tx, app: App, log: number, checkpoint: Checkpoint): Promise<void> {
  const root = Buffer.from(checkpoint.root).toString('hex');
  const note = signCheckpoint(checkpoint, app.log.signers);
  await insertCheckpoint(tx, { log, size: checkpoint.size, root, note });
}

/** Compares first: a database from a backup may know less than is published, or something else. */
async function publishSigned(tx: Tx, app: App, log: LogRow): Promise<void> {
  const { files, keys } = app.log;
  const signed = await checkpointAt(tx, log.number, log.size);
  if (signed === null) throw new LogRefused(`no checkpoint was signed at size ${log.size}: run npm run -s audit`);
  const published = await readPublished(files, keys);
  if (published === null && log.size > 0)
    throw new LogRefused(
      `the log has ${log.size} leaves and LOG_DIR holds no checkpoint to compare it with: run npm run -s log -- compare --checkpoint FILE with one that was kept elsewhere`,
    );
  if (published !== null) await requireBegins(tx, log, published);
  if (published?.size === log.size) return;
  if (published === null && log.follows !== null) await files.write(followsPath, Buffer.from(log.follows, 'utf8'));
  const read = async (from: number, count: number) => await readEntries(tx, log.number, from, count);
  await publish(files, read, published?.size ?? 0, signed);
}

/** @throws LogRefused where the log does not begin with what is published */
async function requireBegins(tx: Tx, log: LogRow, { origin, size, root }: Checkpoint): Promise<void> {
  if (origin !== log.origin)
    throw new LogRefused(`the log that is published is called ${origin}, the one in the database ${log.origin}`);
  if (size > log.size)
    throw new LogRefused(
      `a log of ${size} leaves is published and the database knows ${log.size}: it comes from a backup. A log that is shorter is never signed: run npm run -s log -- begin-anew`,
    );
  const kept = await checkpointAt(tx, log.number, size);
  if (kept?.root !== Buffer.from(root).toString('hex'))
    throw new LogRefused(`the checkpoint that is published at size ${size} is not the one that was signed`);
}
