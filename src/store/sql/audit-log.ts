/** The tables of the log as an operator's check reads them: all logs, in pages. Works as projector and as jobs. */
import type { Tx } from '../transaction.ts';
import type { CheckpointRow, LogRow } from './log.ts';

export type KeptLeaf = { readonly index: number; readonly fact: string; readonly entry: string };

export async function allLogs(tx: Tx): Promise<LogRow[]> {
  const { rows } = await tx.query<LogRow>(
    'select number, origin, follows, size::float8 as size, frontier from logs order by number',
  );
  return rows;
}

/** The next leaves from an index on, whatever their indexes are. */
export async function nextLogLeaves(tx: Tx, log: number, from: number, most: number): Promise<KeptLeaf[]> {
  const { rows } = await tx.query<KeptLeaf>(
    'select index::float8 as index, fact, entry from log_leaves where log = $1 and index >= $2 order by index limit $3',
    [log, from, most],
  );
  return rows;
}

/** The next checkpoints from a size on. */
export async function nextCheckpoints(tx: Tx, log: number, from: number, most: number): Promise<CheckpointRow[]> {
  const { rows } = await tx.query<CheckpointRow>(
    `select size::float8 as size, root, note from log_checkpoints
     where log = $1 and size >= $2 order by size limit $3`,
    [log, from, most],
  );
  return rows;
}

/** The entries of these facts, by id. */
export async function entriesOfFacts(tx: Tx, facts: readonly string[]): Promise<ReadonlyMap<string, string>> {
  const { rows } = await tx.query<{ id: string; entry: string }>(
    'select id, entry from facts where id = any($1::uuid[])',
    [facts],
  );
  return new Map(rows.map(({ id, entry }) => [id, entry]));
}

/** Places of rows that are of no log that is there, the first of them. */
export async function strayRows(tx: Tx, most: number): Promise<{ table: string; key: string }[]> {
  const { rows } = await tx.query<{ table: string; key: string }>(
    `select 'log_leaves' as table, concat('log=', log, ', index=', index) as key from log_leaves
     where log not in (select number from logs)
     union all
     select 'log_checkpoints', concat('log=', log, ', size=', size) from log_checkpoints
     where log not in (select number from logs)
     limit $1`,
    [most],
  );
  return rows;
}

/** Facts whose free text is gone, though nobody asked for that: of giving leave to a person who is forgotten it goes. */
export async function privatesGone(tx: Tx, most: number): Promise<{ key: string; count: number }[]> {
  const { rows } = await tx.query<{ key: string; count: number }>(
    `with forgotten as (
       select owner, substring(statement from '"technician":"([0-9a-f-]{36})"') as person from facts
       where kind = 'erasure' and statement like '%"erase":"everything"%'),
     asked as (
       select a.owner, a.fact from authorisations a
       join forgotten on forgotten.owner = a.owner and forgotten.person = a.person::text
       union all
       select e.owner, e.fact from leave_ends e
       join authorisations a on a.owner = e.owner and a.fact = e.ends
       join forgotten on forgotten.owner = a.owner and forgotten.person = a.person::text)
     select concat('owner=', owner, ', fact=', id) as key, count(*) over ()::int as count from facts f
     where not exists (select from fact_privates p where p.owner = f.owner and p.fact = f.id)
       and not exists (select from asked where asked.owner = f.owner and asked.fact = f.id)
     order by owner, id limit $1`,
    [most],
  );
  return rows;
}
