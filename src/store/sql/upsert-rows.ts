import type { Tx } from '../transaction.ts';

/** The rows that recording replaces: the head and state of a unit, what names lead to, and the current version of people and stock. */
const statements = {
  unit_heads: `
    insert into unit_heads (unit_id, seq, entry, recorded_at)
    select unit_id, seq, entry, recorded_at
    from jsonb_to_recordset($1::jsonb) as row (unit_id uuid, seq bigint, entry text, recorded_at timestamptz)
    on conflict (unit_id) do update
    set seq = excluded.seq, entry = excluded.entry, recorded_at = excluded.recorded_at`,
  unit_states: `
    insert into unit_states (unit_id, maker, unit_kind, seq, function, status, mounted_with, came_in, state)
    select unit_id, maker, unit_kind, seq, function, status, mounted_with, came_in, state
    from jsonb_to_recordset($1::jsonb) as row (
      unit_id uuid, maker text, unit_kind text, seq bigint, function text, status text, mounted_with uuid,
      came_in uuid, state text)
    on conflict (unit_id) do update
    set seq = excluded.seq, function = excluded.function, status = excluded.status,
      mounted_with = excluded.mounted_with, came_in = excluded.came_in, state = excluded.state`,
  unit_names: `
    update unit_names set name_kind = row.name_kind, unit_id = row.unit_id, fact = row.fact
    from jsonb_to_recordset($1::jsonb) as row (
      maker text, unit_kind text, name_kind text, name_key text, unit_id uuid, fact uuid, was uuid)
    where unit_names.maker = row.maker and unit_names.unit_kind = row.unit_kind
      and unit_names.name_key = row.name_key and unit_names.fact = row.was`,
  people: `
    insert into people (owner, id, own_id, name, subject)
    select owner, id, own_id, name, subject
    from jsonb_to_recordset($1::jsonb) as row (owner uuid, id uuid, own_id text, name text, subject text)
    on conflict (owner, own_id) do update set name = excluded.name, subject = excluded.subject
    where people.id = excluded.id`,
  stock_items: `
    insert into stock_items (owner, kind, key, fact, version, fingerprint, statement)
    select owner, kind, key, fact, version, fingerprint, statement
    from jsonb_to_recordset($1::jsonb) as row (
      owner uuid, kind text, key text, fact uuid, version int, fingerprint text, statement text)
    on conflict (owner, kind, key) do update
    set fact = excluded.fact, version = excluded.version, fingerprint = excluded.fingerprint, statement = excluded.statement
    where stock_items.version = excluded.version - 1`,
} as const;

export type ReplacedTable = keyof typeof statements;
export type ReplacedRow = Readonly<Record<string, string | number | null>>;

/**
 * Gives how many rows went in; a stock item that somebody else replaced meanwhile does not, nor a person whom somebody
 * else stated first and so gave another id.
 */
export async function upsertRows(tx: Tx, table: ReplacedTable, rows: readonly ReplacedRow[]): Promise<number> {
  if (rows.length === 0) return 0;
  const result = await tx.query({ name: `replace-${table}`, text: statements[table], values: [JSON.stringify(rows)] });
  return result.rowCount ?? 0;
}
