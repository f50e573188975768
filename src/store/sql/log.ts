/** The tables of the log. Sizes and indexes are numbers: what is beyond 2^53 is no log of ours. */
import type { Tx } from '../transaction.ts';

export type LogRow = {
  readonly number: number;
  readonly origin: string;
  /** The signed note that names the log before this one; null: there is none. */
  readonly follows: string | null;
  readonly size: number;
  /** Hashes of 32 bytes, one after the other. */
  readonly frontier: Buffer;
};
export type LeafRow = { readonly fact: string; readonly entry: string };

const columns = 'number, origin, follows, size::float8 as size, frontier';

/** The log that is written now; null before the first is begun. */
export async function currentLog(tx: Tx): Promise<LogRow | null> {
  const { rows } = await tx.query<LogRow>(`select ${columns} from logs order by number desc limit 1`);
  return rows[0] ?? null;
}

/** The same, for this transaction alone to go on with; null where another one is at it. */
export async function takeLog(tx: Tx): Promise<LogRow | null> {
  const { rows } = await tx.query<LogRow>(
    `select ${columns} from logs where number = (select max(number) from logs) for update skip locked`,
  );
  return rows[0] ?? null;
}

/** Nothing where a log of this number or name is there. */
export async function insertLog(
  tx: Tx,
  { number, origin, follows }: Pick<LogRow, 'number' | 'origin' | 'follows'>,
): Promise<boolean> {
  const { rowCount } = await tx.query(
    `insert into logs (number, origin, follows, size, frontier) values ($1, $2, $3, 0, '') on conflict do nothing`,
    [number, origin, follows],
  );
  return rowCount === 1;
}

export async function isAnyStaged(tx: Tx): Promise<boolean> {
  const { rows } = await tx.query<{ waits: boolean }>('select exists (select from staged_leaves) as waits');
  return rows[0]?.waits === true;
}

/** The oldest that wait, which then wait no more. */
export async function takeStaged(tx: Tx, most: number): Promise<LeafRow[]> {
  const { rows } = await tx.query<LeafRow>(
    `with taken as (
       delete from staged_leaves where id in (select id from staged_leaves order by id limit $1)
       returning id, fact, entry)
     select fact, entry from taken order by id`,
    [most],
  );
  return rows;
}

/** Leaves of a log that is given up wait for the one that follows it, in their order and before those that wait already. */
export async function stageAgain(tx: Tx, log: number): Promise<void> {
  await tx.query(
    `with waiting as (delete from staged_leaves returning id, fact, entry)
     insert into staged_leaves (fact, entry)
     select fact, entry from (
       select false as waits, index as at, fact, entry from log_leaves where log = $1
       union all
       select true, id, fact, entry from waiting) as leaves
     order by waits, at`,
    [log],
  );
}

export async function insertLeaves(tx: Tx, log: number, from: number, leaves: readonly LeafRow[]): Promise<void> {
  await tx.query(
    `insert into log_leaves (log, index, fact, entry)
     select $1, $2::bigint + n - 1, fact, entry
     from unnest($3::uuid[], $4::text[]) with ordinality as leaf (fact, entry, n)`,
    [log, from, leaves.map((one) => one.fact), leaves.map((one) => one.entry)],
  );
}

export async function insertCheckpoint(
  tx: Tx,
  { log, size, root, note }: { log: number; size: number; root: string; note: string },
): Promise<void> {
  await tx.query('insert into log_checkpoints (log, size, root, note) values ($1, $2, $3, $4)', [
    log,
    size,
    root,
    note,
  ]);
}

export async function moveLog(tx: Tx, log: number, size: number, frontier: Buffer): Promise<void> {
  await tx.query('update logs set size = $2, frontier = $3 where number = $1', [log, size, frontier]);
}

export type CheckpointRow = { readonly size: number; readonly root: string; readonly note: string };

/** The checkpoint of this size; null where none was signed. */
export async function checkpointAt(tx: Tx, log: number, size: number): Promise<CheckpointRow | null> {
  const { rows } = await tx.query<CheckpointRow>(
    'select size::float8 as size, root, note from log_checkpoints where log = $1 and size = $2',
    [log, size],
  );
  return rows[0] ?? null;
}

/** All that were signed, the smallest first. */
export async function allCheckpoints(tx: Tx, log: number): Promise<CheckpointRow[]> {
  const { rows } = await tx.query<CheckpointRow>(
    'select size::float8 as size, root, note from log_checkpoints where log = $1 order by size',
    [log],
  );
  return rows;
}

/** Entries in order, from an index on. */
export async function readEntries(tx: Tx, log: number, from: number, count: number): Promise<string[]> {
  const { rows } = await tx.query<{ entry: string }>(
    'select entry from log_leaves where log = $1 and index >= $2 and index < $2 + $3::bigint order by index',
    [log, from, count],
  );
  return rows.map((row) => row.entry);
}

/** Where entries stand in the log that is written now; those that have no place yet are left out. */
export async function indexesOf(tx: Tx, entries: readonly string[]): Promise<Map<string, number>> {
  const { rows } = await tx.query<{ entry: string; index: number }>(
    `select entry, min(index)::float8 as index from log_leaves
     where log = (select max(number) from logs) and entry = any($1::text[]) group by entry`,
    [entries],
  );
  return new Map(rows.map((row) => [row.entry, row.index]));
}
