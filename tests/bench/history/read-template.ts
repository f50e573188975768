/** Every row that some facts left in any table, as text by column. */
import type pg from 'pg';

export type TemplateRow = {
  readonly table: string;
  /** In the order of the table; types as Postgres names them. */
  readonly columns: readonly { readonly name: string; readonly type: string; readonly value: string | null }[];
};

export type Template = {
  /** In the order of recording. */
  readonly facts: readonly { readonly id: string; readonly recordedAt: string; readonly performedTo: string }[];
  readonly rows: readonly TemplateRow[];
  /** The canonical JSON of each body that was sent, by its fingerprint. */
  readonly sent: ReadonlyMap<string, string>;
};

/** What finds the rows of facts, or of the units that they touched, in tables that don't call it `fact`. */
const keys: Readonly<Record<string, string>> = {
  facts: 'id = any ($1)',
  unit_heads: 'unit_id in (select unit_id from unit_events where fact = any ($1))',
  unit_findings: 'unit_id in (select unit_id from unit_events where fact = any ($1))',
  unit_states: 'unit_id in (select unit_id from unit_events where fact = any ($1))',
  people: `exists (select from facts where facts.owner = people.owner and facts.id = any ($1)
    and kind = 'technician' and strpos(statement, people.id::text) > 0)`,
};
/** Not made by recording, without a row once it is over, or summed up at the end. */
const others = [
  ...['_prisma_migrations', 'organisations', 'accesses', 'attempts', 'pending_judgements'],
  ...['logs', 'log_leaves', 'log_checkpoints', 'lot_sums'],
];

export async function lastFact(client: pg.ClientBase): Promise<string> {
  const { rows } = await client.query<{ id: string }>('select id from facts order by id desc limit 1');
  return rows[0]?.id ?? '00000000-0000-0000-0000-000000000000';
}

/** Of all facts after this one. */
export async function readTemplate(client: pg.ClientBase, after: string, sent: Template['sent']): Promise<Template> {
  const { rows: facts } = await client.query<Template['facts'][number]>(
    `select id, ${utc('recorded_at')} as "recordedAt", ${utc('performed_to')} as "performedTo"
     from facts where id > $1 order by recorded_at, id`,
    [after],
  );
  const ids = facts.map(({ id }) => id);
  const { rows: tables } = await client.query<{ table: string; columns: { name: string; type: string }[] }>(
    `select table_name as table, json_agg(json_build_object('name', column_name, 'type', data_type) order by ordinal_position) as columns
     from information_schema.columns join information_schema.tables using (table_schema, table_name)
     where table_schema = 'public' and table_type = 'BASE TABLE' and is_identity = 'NO' and table_name <> all ($1)
     group by table_name order by table_name = 'facts' desc, table_name`,
    [others],
  );
  const rows: TemplateRow[] = [];
  for (const { table, columns } of tables) {
    const shown = columns.map(({ name, type }) => `${shownAs(name, type)} as ${name}`).join(', ');
    const found = await client.query<Record<string, string | null>>(
      `select ${shown} from ${table} where ${keys[table] ?? 'fact = any ($1)'} order by ${table}::text`,
      [ids],
    );
    for (const row of found.rows)
      rows.push({ table, columns: columns.map((one) => ({ ...one, value: row[one.name] ?? null })) });
  }
  return { facts, rows, sent };
}

function shownAs(name: string, type: string): string {
  if (type === 'bytea') return `encode(${name}, 'hex')`;
  return type.startsWith('timestamp') ? utc(name) : `${name}::text`;
}

function utc(name: string): string {
  return `to_char(${name} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"')`;
}
