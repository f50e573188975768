/**
 * The operator's check: that what is derived follows from the facts, that every fact is in the log once and as it was, that
 * every head that was ever signed is one of this log, and that what is published is what the database holds.
 *
 * What no hash covers and nothing tells can't be checked: when a log was begun and a checkpoint signed (`begun_at`,
 * `signed_at`), and numbers that the database makes (`id` of `staged_leaves` and `outbox`).
 */
import { checkpointIn, checkpointText, openCheckpoint } from '../../core/log/checkpoint.ts';
import { type Follows, openFollows } from '../../core/log/follows.ts';
import { openNote, type VerifierKey } from '../../core/log/note.ts';
import type { LogFiles } from '../../store/log-files.ts';
import type { Pools } from '../../store/pools.ts';
import type { Difference } from '../../store/projections/compare-expected.ts';
import { allLogs, entriesOfFacts, type KeptLeaf, privatesGone, strayRows } from '../../store/sql/audit-log.ts';
import { type CheckpointRow, checkpointAt, type LogRow } from '../../store/sql/log.ts';
import type { Tx } from '../../store/transaction.ts';
import type { Progress } from '../projections/derive-all.ts';
import { mostListed, type Noted, note } from '../projections/noted.ts';
import { onOneSnapshot, type Verification, verifyWithin } from '../verify-projections.ts';
import { compareFile, otherFiles } from './audit-files.ts';
import { checkpointPath, followsPath } from './published.ts';
import { recompute } from './recompute.ts';

export type Audit = Verification & {
  readonly leaves: number;
  readonly checkpoints: number;
  /** That are published. */
  readonly files: number;
};

export type AuditedLog = { readonly files: LogFiles; readonly keys: readonly VerifierKey[] };

const wholeRow = '(row)';

/** `pool` connects as the owner. Recording and the log may go on meanwhile. */
export async function audit(pool: Pools['jobs'], log: AuditedLog, progress: Progress): Promise<Audit> {
  // Before the snapshot: what is published then is in it.
  const published = (await log.files.read(checkpointPath))?.toString('utf8') ?? null;
  return await onOneSnapshot(pool, async (tx) => {
    const verified = await verifyWithin(tx, progress);
    const noted: Noted = { count: verified.count, differences: [...verified.differences] };
    const auditing = new Auditing(tx, log, noted, progress);
    await auditing.everything(published);
    const { leaves, checkpoints, files } = auditing;
    return { ...verified, ...noted, leaves, checkpoints, files };
  });
}

class Auditing {
  leaves = 0;
  checkpoints = 0;
  files = 0;

  readonly #tx: Tx;
  readonly #log: AuditedLog;
  readonly #noted: Noted;
  readonly #progress: Progress;

  constructor(tx: Tx, log: AuditedLog, noted: Noted, progress: Progress) {
    this.#tx = tx;
    this.#log = log;
    this.#noted = noted;
    this.#progress = progress;
  }

  async everything(published: string | null): Promise<void> {
    for (const { table, key } of await strayRows(this.#tx, mostListed))
      this.#differs(table, key, 'log', 'a log that is there', 'none');
    const gone = await privatesGone(this.#tx, mostListed);
    for (const { key } of gone)
      this.#differs('fact_privates', key, wholeRow, 'a row, or the erasure of a person', 'no such row');
    this.#noted.count += (gone[0]?.count ?? 0) - gone.length;
    const logs = await allLogs(this.#tx);
    const current = logs.at(-1) ?? null;
    const size = await this.#publishedSize(current, published);
    for (const [at, log] of logs.entries()) await this.#oneLog(log, logs[at - 1] ?? null, log === current ? size : 0);
    if (current !== null && size > 0) await this.#otherFiles(current, size);
  }

  async #oneLog(log: LogRow, before: LogRow | null, published: number): Promise<void> {
    await this.#follows(log, before);
    const key = `number=${log.number}`;
    for await (const made of recompute(this.#tx, log.number, { published })) {
      if (made.kind === 'leaves') await this.#leaves(log, made.from, made.rows);
      else if (made.kind === 'beyond') this.#checkpoint(log, made.checkpoint, `none: the log has not so many leaves`);
      else if (made.kind === 'file') {
        note(this.#noted, ...(await compareFile(this.#log.files, made.file)));
        this.files += 1;
      } else {
        const { size, root, frontier, checkpoint, isEnd } = made.head;
        if (checkpoint !== null) this.#checkpoint(log, checkpoint, root);
        if (!isEnd) continue;
        if (checkpoint === null)
          this.#differs('log_checkpoints', `log=${log.number}, size=${size}`, wholeRow, 'a row', 'no such row');
        const signed = checkpoint === null ? null : checkpointIn(textOf(checkpoint.note));
        if (signed !== null && signed.origin !== log.origin)
          this.#differs('logs', key, 'origin', signed.origin, log.origin);
        if (log.size !== size) this.#differs('logs', key, 'size', String(size), String(log.size));
        const found = log.frontier.toString('hex');
        if (found !== frontier.toString('hex')) this.#differs('logs', key, 'frontier', frontier.toString('hex'), found);
      }
    }
  }

  async #leaves(log: LogRow, from: number, rows: readonly KeptLeaf[]): Promise<void> {
    const entries = await entriesOfFacts(
      this.#tx,
      rows.map(({ fact }) => fact),
    );
    for (const [at, { index, fact, entry }] of rows.entries()) {
      const key = `log=${log.number}, index=${index}`;
      if (index !== from + at) this.#differs('log_leaves', key, 'index', String(from + at), String(index));
      const expected = entries.get(fact) ?? null;
      if (expected === null) this.#differs('log_leaves', key, 'fact', 'a fact', fact);
      else if (expected !== entry) this.#differs('log_leaves', key, 'entry', expected, entry);
    }
    this.leaves += rows.length;
    this.#progress(`leaves of ${log.origin}: ${from + rows.length} of ${log.size}`);
  }

  #checkpoint(log: LogRow, { size, root, note: text }: CheckpointRow, expected: string): void {
    const key = `log=${log.number}, size=${size}`;
    this.checkpoints += 1;
    if (root !== expected) this.#differs('log_checkpoints', key, 'root', expected, root);
    const fault = noteFault(text, { origin: log.origin, size, root }, this.#log.keys);
    if (fault !== null) this.#differs('log_checkpoints', key, 'note', fault, text);
  }

  async #follows({ number, origin, follows }: LogRow, before: LogRow | null): Promise<void> {
    const differs = (expected: string) => this.#differs('logs', `number=${number}`, 'follows', expected, follows);
    if (follows === null) {
      if (before !== null) differs(`a note that names ${before.origin}`);
      return;
    }
    const said = openFollows(follows, this.#log.keys);
    if ('fault' in said) return differs(`a note of a known key, not ${said.fault}`);
    if (said.origin !== origin) return differs(`a note of ${origin}`);
    if (before !== null && (await this.#isOther(before, said.after)))
      differs(`a note that names a checkpoint of ${before.origin}`);
  }

  /** A checkpoint of a size that the old log has lost can't be compared. */
  async #isOther(before: LogRow, { origin, size, root }: Follows['after']): Promise<boolean> {
    if (origin !== before.origin) return true;
    const kept = await checkpointAt(this.#tx, before.number, size);
    return kept !== null && kept.root !== Buffer.from(root).toString('hex');
  }

  /** 0 where nothing can be compared. */
  async #publishedSize(log: LogRow | null, published: string | null): Promise<number> {
    const differs = (file: string, expected: string | null, found: string | null) =>
      this.#differs('LOG_DIR', `file=${file}`, '(bytes)', expected, found);
    if (log?.follows !== null && log !== null) {
      const found = (await this.#log.files.read(followsPath))?.toString('utf8') ?? null;
      if (found !== log.follows && published !== null) differs(followsPath, log.follows, found);
    }
    if (published === null) {
      if (log !== null && log.size > 0) differs(checkpointPath, 'a checkpoint', null);
      return 0;
    }
    const checkpoint = openCheckpoint(published, this.#log.keys);
    if ('fault' in checkpoint) {
      differs(checkpointPath, `a checkpoint of a known key, not ${checkpoint.fault}`, published);
      return 0;
    }
    const { origin, size } = checkpoint;
    if (log === null || origin !== log.origin || size > log.size) {
      differs(
        checkpointPath,
        `a checkpoint of ${log?.origin ?? 'no log'} of at most ${log?.size ?? 0} leaves`,
        published,
      );
      return 0;
    }
    const kept = await checkpointAt(this.#tx, log.number, size);
    if (kept?.note !== published) differs(checkpointPath, kept?.note ?? 'one that was kept', published);
    return size;
  }

  async #otherFiles(log: LogRow, published: number): Promise<void> {
    const isKept = async (size: number) => size > log.size || (await checkpointAt(this.#tx, log.number, size)) !== null;
    this.#progress('other files');
    for await (const found of otherFiles(this.#log.files, { published, known: log.size }, isKept)) {
      if (found !== null) note(this.#noted, found);
      this.files += 1;
    }
  }

  #differs(table: string, key: string, column: string, expected: string | null, found: string | null): void {
    note(this.#noted, { table, key, column, expected, found } satisfies Difference);
  }
}

/** Whoever signed it. */
function textOf(note: string): string {
  return note.slice(0, note.lastIndexOf('\n\n') + 1);
}

/** What a kept note should be and is not; null: it is that. */
function noteFault(
  text: string,
  { origin, size, root }: { origin: string; size: number; root: string },
  keys: readonly VerifierKey[],
): string | null {
  const opened = openNote(text, keys);
  if ('fault' in opened) return `signed by known keys, not ${opened.fault}`;
  const expected = checkpointText({ origin, size, root: Buffer.from(root, 'hex') });
  if (opened.text !== expected) return expected;
  // A signature that no key of ours made says nothing; we put none there.
  const signatures = text
    .slice(opened.text.length + 1)
    .trimEnd()
    .split('\n').length;
  if (signatures !== opened.by.length || !opened.by.some((key) => key.name === origin))
    return 'signed by known keys alone';
  return null;
}
