/**
 * What somebody would write who only wants the rows in: the rows of one recorded conversion, once more for each record,
 * in one call of a function in the database; no checks, and no sums of what lots gave, which ours adds to. Row security and
 * foreign keys are on, and each connection has its role and organisation from the beginning. With `batch` the records that
 * wait go in together, in one transaction.
 */
import { randomUUID } from 'node:crypto';
import pg from 'pg';
import type { Template } from '../history/read-template.ts';
import { type Driven, drive } from '../load/drive.ts';

export type WriterJob = {
  readonly kind: 'writer';
  readonly url: string;
  /** The organisation of each connection. */
  readonly owners: readonly string[];
  readonly each: number;
  readonly rate: number | null;
  readonly rows: RowsOfRecord;
  /** Records of a transaction at the most, and how many transactions at once; null: each connection for itself. */
  readonly batch: { readonly most: number; readonly workers: number } | null;
};

/** By table the rows as JSON, without brackets, with words where each record has its own. */
export type RowsOfRecord = Readonly<Record<string, string>>;

const replaced: Readonly<Record<string, string>> = {
  unit_heads: 'seq = excluded.seq, entry = excluded.entry, recorded_at = excluded.recorded_at',
  unit_states: `seq = excluded.seq, function = excluded.function, status = excluded.status, state = excluded.state,
    mounted_with = excluded.mounted_with, came_in = excluded.came_in`,
};

/** Makes the function in the database, and what its calls are made of. */
export async function prepareWriter(client: pg.ClientBase, written: Template): Promise<RowsOfRecord> {
  const tables = Map.groupBy(written.rows, ({ table }) => table);
  const statements = [...tables].map(([table, [row]]) => {
    const columns = row?.columns ?? [];
    const names = columns.map(({ name }) => name).join(', ');
    const typed = columns.map(({ name, type }) => `${name} ${type}`).join(', ');
    const update = replaced[table];
    return `insert into ${table} (${names}) select ${names} from jsonb_to_recordset(rows -> '${table}') as row (${typed})
      ${update === undefined ? '' : `on conflict (unit_id) do update set ${update}`};`;
  });
  await client.query(`create or replace function bench_write(rows jsonb) returns void language plpgsql as
    $$ begin ${statements.join('\n')} end $$`);
  await client.query('grant execute on function bench_write to public');
  const [fact] = written.facts;
  const columnOf = (table: string, name: string) =>
    tables.get(table)?.[0]?.columns.find((one) => one.name === name)?.value ?? '';
  const units = (tables.get('unit_events') ?? []).map(({ columns }) => columns.find((one) => one.name === 'unit_id'));
  const words: readonly (readonly [string, string])[] = [
    [fact?.id ?? '', 'FACT'],
    ...units.map((unit, nth) => [unit?.value ?? '', `UNIT${nth}`] as const),
    [columnOf('facts', 'owner'), 'OWNER'],
    [columnOf('idempotency_keys', 'key'), 'KEY'],
    [columnOf('record_references', 'reference'), 'REFERENCE'],
    ['L-001-40', 'BARE-LOT'],
  ];
  return Object.fromEntries(
    [...tables].map(([table, rows]) => {
      const text = rows
        .map(({ columns }) =>
          JSON.stringify(
            Object.fromEntries(
              columns.map(({ name, type, value }) => [name, type === 'bytea' ? `\\x${value}` : value]),
            ),
          ),
        )
        .join(',');
      const named = words.reduce((one, [literal, word]) => one.replaceAll(literal, word), text);
      return [table, named.replaceAll(/"seq":"\d+"/g, '"seq":"SEQ"')];
    }),
  );
}

type Unit = { readonly ids: readonly string[]; seq: number };
/** Of each owner, so that rows that are replaced are there already. */
const units = new Map<string, Unit[]>();
const unitsOfEach = 20;

function nextUnit(owner: string): Unit {
  const mine =
    units.get(owner) ?? Array.from({ length: unitsOfEach }, () => ({ ids: [randomUUID(), randomUUID()], seq: 0 }));
  units.set(owner, mine);
  const [unit] = mine.splice(0, 1);
  if (unit === undefined) throw new Error('every unit is being written');
  unit.seq += 1;
  return unit;
}

/** The rows of one record, by table. */
function rowsOf(rows: RowsOfRecord, owner: string, { ids, seq }: Unit): [string, string][] {
  const fact = randomUUID();
  return Object.entries(rows).map(([table, text]) => [
    table,
    text
      .replaceAll('FACT', fact)
      .replaceAll('UNIT0', ids[0] ?? '')
      .replaceAll('UNIT1', ids[1] ?? '')
      .replaceAll('OWNER', owner)
      .replaceAll('KEY', fact)
      .replaceAll('REFERENCE', fact)
      .replaceAll('"SEQ"', String(seq)),
  ]);
}

/** Connections stay for the next round of the same row: a Postgres process that has just begun takes half as long again. */
export async function writerLoad(job: WriterJob): Promise<Driven> {
  const write = await writeOf(job);
  return await drive(
    job.owners.map((owner, connection) =>
      Array.from({ length: job.each }, () => async () => {
        const unit = nextUnit(`${connection} ${owner}`);
        await write(connection, rowsOf(job.rows, owner, unit));
        units.get(`${connection} ${owner}`)?.push(unit);
      }),
    ),
    job.rate,
  );
}

/** Those of the row that was asked last. */
let kept: { readonly of: string; readonly write: Write; readonly clients: readonly pg.Client[] } | null = null;

async function writeOf({ url, owners, batch }: WriterJob): Promise<Write> {
  const of = JSON.stringify([url, owners, batch]);
  if (kept?.of === of) return kept.write;
  await Promise.all((kept?.clients ?? []).map((client) => client.end()));
  kept = null;
  const clients: pg.Client[] = [];
  const open = async (orgs: readonly string[]) => {
    const client = new pg.Client({ connectionString: url, options: '-c TimeZone=UTC' });
    // Ended with the server; in the middle of a round the query says so.
    client.on('error', () => {});
    await client.connect();
    clients.push(client);
    await client.query(`select set_config('app.orgs', $1, false)`, [orgs.join(',')]);
    await client.query('set role asfitted_recorder');
    return client;
  };
  const write = batch === null ? await eachForItself(owners, open) : await together(owners, batch, open);
  kept = { of, write, clients };
  return write;
}

type Write = (connection: number, rows: [string, string][]) => Promise<void>;
type Open = (orgs: readonly string[]) => Promise<pg.Client>;

async function eachForItself(owners: readonly string[], open: Open): Promise<Write> {
  const connections: pg.Client[] = [];
  for (const owner of owners) connections.push(await open([owner]));
  return async (connection, rows) => {
    const client = connections[connection];
    if (client === undefined) throw new Error('there is no such connection');
    await send(client, [rows]);
  };
}

async function together(
  owners: readonly string[],
  { most, workers }: NonNullable<WriterJob['batch']>,
  open: Open,
): Promise<Write> {
  const free: pg.Client[] = [];
  for (let nth = 0; nth < workers; nth++) free.push(await open([...new Set(owners)]));
  const waiting: { rows: [string, string][]; done: PromiseWithResolvers<void> }[] = [];
  const work = async () => {
    const client = waiting.length === 0 ? undefined : free.pop();
    if (client === undefined) return;
    const batch = waiting.splice(0, most);
    await send(
      client,
      batch.map(({ rows }) => rows),
    ).then(
      () => batch.forEach(({ done }) => void done.resolve()),
      (error: unknown) => batch.forEach(({ done }) => void done.reject(error)),
    );
    free.push(client);
    await work();
  };
  return async (_, rows) => {
    const done = Promise.withResolvers<void>();
    waiting.push({ rows, done });
    setImmediate(() => void work());
    await done.promise;
  };
}

async function send(client: pg.Client, records: readonly [string, string][][]): Promise<void> {
  const tables = records[0]?.map(([table]) => table) ?? [];
  const all = tables.map((table, at) => `"${table}":[${records.map((rows) => rows[at]?.[1] ?? '').join(',')}]`);
  await client.query({ name: 'bench-write', text: 'select bench_write($1)', values: [`{${all.join(',')}}`] });
}
