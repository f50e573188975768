/**
 * After a restore, or where LOG_DIR is lost: the whole log is made again from its leaves and held against a checkpoint that
 * was kept elsewhere. Where it begins with that one, all that is published is written anew.
 */
import { type Checkpoint, openCheckpoint } from '../../core/log/checkpoint.ts';
import { checkpointAt, type LogRow, takeLog } from '../../store/sql/log.ts';
import { type Tx, withTransaction } from '../../store/transaction.ts';
import type { App } from '../context.ts';
import { checkpointPath, followsPath, readPublished } from './published.ts';
import { type Head, recompute } from './recompute.ts';
import { LogRefused } from './refused.ts';

const timeouts = { statementMs: 3_600_000, idleMs: 3_600_000, transactionMs: 86_400_000 };

/** How many leaves are published now, and with how many files. */
export type Compared = {
  readonly origin: string;
  readonly size: number;
  readonly compared: number;
  readonly files: number;
};

/**
 * `kept` is a signed note; null: what LOG_DIR holds is all that there is to compare with. It is compared in any case.
 * @throws LogRefused with what to do, where the database is not what was signed; nothing is written then
 */
export async function compareLog(app: App, kept: string | null): Promise<Compared> {
  const given = kept === null ? [] : [opened(app, kept)];
  const published = await readPublished(app.log.files, app.log.keys);
  const signed = published === null ? given : [...given, published];
  if (signed.length === 0)
    throw new LogRefused('LOG_DIR holds no checkpoint: give one that was kept elsewhere, with --checkpoint FILE');
  return await withTransaction(app.pools.jobs, { role: 'jobs', orgs: [], oneSnapshot: true, timeouts }, async (tx) => {
    const log = await takeLog(tx);
    if (log === null)
      throw new LogRefused('there is no log in the database, or an instance is writing to it: try again');
    for (const one of signed) requireReached(log, one);
    await requireBegins(tx, log, signed);
    const head = await checkpointAt(tx, log.number, log.size);
    if (head === null) throw new LogRefused(`no checkpoint was signed at size ${log.size}: run npm run -s audit`);
    const files = await writeAnew(tx, app, log, head.note);
    return { origin: log.origin, size: log.size, compared: Math.max(...signed.map(({ size }) => size)), files };
  });
}

function opened(app: App, note: string): Checkpoint {
  const checkpoint = openCheckpoint(note, app.log.keys);
  if ('fault' in checkpoint)
    throw new LogRefused(
      `that is no checkpoint of a known key (${checkpoint.fault}): see LOG_NAME, SIGNING_KEY_FILE and LOG_FORMER_KEYS`,
    );
  return checkpoint;
}

function requireReached(log: LogRow, { origin, size }: Checkpoint): void {
  if (origin !== log.origin)
    throw new LogRefused(`the checkpoint is of the log ${origin}, the one in the database is called ${log.origin}`);
  if (size > log.size)
    throw new LogRefused(
      `${size} leaves were signed and the database knows ${log.size}: restore a later backup, or run npm run -s log -- begin-anew --after with that checkpoint`,
    );
}

/** @throws LogRefused at the first head that is not as it was signed */
async function requireBegins(tx: Tx, log: LogRow, signed: readonly Checkpoint[]): Promise<void> {
  let end = 0;
  for await (const made of recompute(tx, log.number, { published: 0, heads: signed.map(({ size }) => size) })) {
    if (made.kind === 'leaves') requireNoGap(made.from, made.rows);
    if (made.kind !== 'head') continue;
    requireSame(made.head, signed);
    end = made.head.size;
  }
  if (end !== log.size)
    throw new LogRefused(`the log should have ${log.size} leaves and has ${end}: run npm run -s audit`);
}

function requireNoGap(from: number, rows: readonly { readonly index: number }[]): void {
  const at = rows.findIndex(({ index }, n) => index !== from + n);
  if (at >= 0) throw new LogRefused(`there is no leaf ${from + at}: run npm run -s audit`);
}

function requireSame({ size, root, checkpoint }: Head, signed: readonly Checkpoint[]): void {
  const isOther = signed.some((one) => one.size === size && Buffer.from(one.root).toString('hex') !== root);
  if (isOther)
    throw new LogRefused(
      `the first ${size} leaves are not those that were signed: restore another backup, or run npm run -s log -- begin-anew --after with that checkpoint`,
    );
  if (checkpoint !== null && checkpoint.root !== root)
    throw new LogRefused(
      `the leaves are not those of the checkpoint that was kept at size ${size}: run npm run -s audit`,
    );
}

/** The checkpoint last; then what is of no use any more goes: what smaller trees had at their right edge. */
async function writeAnew(tx: Tx, app: App, log: LogRow, note: string): Promise<number> {
  const { files } = app.log;
  const written = new Set<string>([checkpointPath]);
  const write = async (path: string, bytes: Uint8Array) => {
    await files.write(path, bytes);
    written.add(path);
  };
  for await (const made of recompute(tx, log.number, { published: log.size }))
    if (made.kind === 'file') await write(made.file.path, made.file.bytes);
  if (log.follows !== null) await write(followsPath, Buffer.from(log.follows, 'utf8'));
  await files.write(checkpointPath, Buffer.from(note, 'utf8'));
  for await (const path of files.list()) if (!written.has(path)) await files.remove(path);
  return written.size;
}
