/** Changes to a database behind the service's back, each put back after it was looked at. */
import type pg from 'pg';
import { expect } from 'vitest';

export type Column = {
  readonly table: string;
  readonly column: string;
  readonly type: string;
  readonly isKey: boolean;
};

/** From the database's own catalogue. */
export async function columnsOf(superuser: pg.Client): Promise<Column[]> {
  const { rows } = await superuser.query<Column>(`
    select c.table_name as table, c.column_name as column, c.data_type as type,
      k.column_name is not null as "isKey"
    from information_schema.columns c
    join information_schema.tables t using (table_schema, table_name)
    left join (
      information_schema.table_constraints p
      join information_schema.key_column_usage k using (constraint_schema, constraint_name)
    ) on p.constraint_type = 'PRIMARY KEY' and p.table_schema = c.table_schema and p.table_name = c.table_name
      and k.column_name = c.column_name
    where c.table_schema = 'public' and t.table_type = 'BASE TABLE'
    order by c.table_name, c.ordinal_position`);
  return rows;
}

const anotherKey: Readonly<Record<string, string | number>> = {
  uuid: '0190a3c5-0000-7000-8000-000000000000',
  text: 'another',
  bigint: 4711,
  integer: 4711,
  'timestamp with time zone': '2020-01-01T00:00:00Z',
};

/** What comes out as another value of the type. */
const another: Readonly<Record<string, (column: string) => string>> = {
  uuid: () => `'${anotherKey['uuid']}'::uuid`,
  text: (column) => `coalesce(${column}, '') || ' '`,
  bigint: (column) => `${column} + 4711`,
  integer: (column) => `${column} + 4711`,
  'timestamp with time zone': (column) => `${column} + interval '1 microsecond'`,
  bytea: (column) => `set_byte(${column}, 0, (get_byte(${column}, 0) + 1) % 256)`,
};

/** In one row, one that has a value there if any has. */
export async function changeOne(superuser: pg.Client, { table, column, type }: Column): Promise<void> {
  // A JSON text that says the same is the same answer: change what it says.
  const digest = `regexp_replace(answer, '("digests":\\{"origin":")..', '\\1zz')`;
  const to = column === 'answer' ? digest : another[type]?.(column);
  if (to === undefined) throw new Error(`no other value is known for the type ${type}`);
  const { rowCount } = await superuser.query(
    `update ${table} set ${column} = ${to}
     where ctid = (select ctid from ${table} order by ${column} is null, ctid desc limit 1)`,
  );
  if (rowCount !== 1) throw new Error(`nothing was changed in ${table}`);
}

/** One that is there, under another key. */
export async function addOne(superuser: pg.Client, table: string, columns: readonly Column[]): Promise<void> {
  const { rows } = await superuser.query<{ row: object }>(`select to_jsonb(t) as row from ${table} t limit 1`);
  const keys = columns.filter((one) => one.table === table && one.isKey);
  const added = { ...rows[0]?.row, ...Object.fromEntries(keys.map((key) => [key.column, anotherKey[key.type]])) };
  await superuser.query(
    `insert into ${table} overriding system value select * from jsonb_populate_record(null::${table}, $1)`,
    [JSON.stringify(added)],
  );
}

export async function takeOne(superuser: pg.Client, table: string): Promise<void> {
  await superuser.query(`delete from ${table} where ctid = (select max(ctid) from ${table})`);
}

/** Lets work change these tables, and puts them back. */
export async function withSaved<T>(
  superuser: pg.Client,
  tables: readonly string[],
  work: () => Promise<T>,
): Promise<T> {
  const contents = async () => {
    const all: string[][] = [];
    for (const table of tables) all.push(await rowsIn(superuser, table));
    return all;
  };
  const before = await contents();
  for (const table of tables) await superuser.query(`create temp table saved_${table} as select * from ${table}`);
  try {
    return await work();
  } finally {
    for (const table of tables) {
      await superuser.query(`delete from ${table}`);
      await superuser.query(`insert into ${table} overriding system value select * from saved_${table}`);
      await superuser.query(`drop table saved_${table}`);
    }
    // Else all that follows would find a difference for the wrong reason.
    expect(await contents()).toEqual(before);
  }
}

/** Every row, as text. */
export async function rowsIn(superuser: pg.Client, table: string): Promise<string[]> {
  const { rows } = await superuser.query<{ row: string }>(`select t::text as row from ${table} t order by 1`);
  return rows.map(({ row }) => row);
}

/** Checks, foreign keys and what is unique besides keys, which a damaged or badly restored database may lack too. */
export async function takeConstraintsAway(superuser: pg.Client): Promise<void> {
  const { rows } = await superuser.query<{ table: string; name: string }>(`
    select conrelid::regclass::text as table, conname as name
    from pg_constraint where contype in ('c', 'f') and connamespace = 'public'::regnamespace
    union all
    select 'logs', 'logs_origin_key'`);
  for (const { table, name } of rows) await superuser.query(`alter table ${table} drop constraint ${name}`);
}
