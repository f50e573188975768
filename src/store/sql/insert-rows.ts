import type { Tx } from '../transaction.ts';

/**
 * The tables that recording appends to, with their columns. One statement a table and batch, from one JSON parameter:
 * a statement a row costs a round trip each, and unnest needs one array a column.
 */
const columns = {
  facts: {
    owner: 'uuid',
    id: 'uuid',
    kind: 'text',
    maker: 'text',
    edition: 'text',
    ruleset: 'text',
    performed_from: 'timestamptz',
    performed_to: 'timestamptz',
    recorded_at: 'timestamptz',
    after: 'uuid',
    concerns: 'uuid',
    origin: 'text',
    statement: 'text',
    judgement: 'text',
    origin_salt: 'bytea',
    statement_salt: 'bytea',
    judgement_salt: 'bytea',
    private_digest: 'text',
    entry: 'text',
  },
  fact_privates: { owner: 'uuid', fact: 'uuid', section: 'text', salt: 'bytea' },
  unit_events: {
    unit_id: 'uuid',
    seq: 'bigint',
    prev: 'text',
    fact: 'uuid',
    kind: 'text',
    performed_from: 'timestamptz',
    performed_to: 'timestamptz',
    recorded_at: 'timestamptz',
    after: 'uuid',
    effect: 'text',
  },
  unit_names: {
    maker: 'text',
    unit_kind: 'text',
    name_kind: 'text',
    name_key: 'text',
    as_written: 'text',
    unit_id: 'uuid',
    fact: 'uuid',
  },
  part_uses: {
    owner: 'uuid',
    fact: 'uuid',
    line: 'int',
    maker: 'text',
    unit_id: 'uuid',
    role: 'text',
    place: 'text',
    item: 'text',
    quantity: 'int',
    lot_maker: 'text',
    lot_number: 'text',
    shop: 'text',
    reference: 'text',
    performed_to: 'timestamptz',
    serial_maker: 'text',
    serial_key: 'text',
  },
  mentions: { owner: 'uuid', what: 'text', key: 'text', performed_to: 'timestamptz', fact: 'uuid', maker: 'text' },
  pending_judgements: { owner: 'uuid', cause: 'uuid', client: 'text', subject: 'text', touched: 'text' },
  idempotency_keys: {
    owner: 'uuid',
    client: 'text',
    key: 'text',
    route: 'text',
    fingerprint: 'text',
    fact: 'uuid',
    status: 'smallint',
    answer: 'text',
  },
  record_references: { owner: 'uuid', kind: 'text', reference: 'text', fact: 'uuid' },
  registrations: { owner: 'uuid', unit_id: 'uuid', fact: 'uuid', fingerprint: 'text', answer: 'text' },
  attempts: {
    owner: 'uuid',
    id: 'uuid',
    at: 'timestamptz',
    kind: 'text',
    origin: 'text',
    body: 'text',
    findings: 'text',
  },
  intakes: {
    owner: 'uuid',
    fact: 'uuid',
    lot_maker: 'text',
    lot_number: 'text',
    shop: 'text',
    quantity: 'int',
    performed_to: 'timestamptz',
    what: 'text',
    reference: 'text',
    location: 'text',
    counts: 'text',
    item: 'text',
    loose: 'text',
    origin: 'uuid',
    station: 'text',
  },
  instrument_events: {
    owner: 'uuid',
    fact: 'uuid',
    instrument: 'text',
    kind: 'text',
    performed_from: 'timestamptz',
    performed_to: 'timestamptz',
    statement: 'text',
  },
  authorisations: {
    owner: 'uuid',
    fact: 'uuid',
    person: 'uuid',
    scope: 'text',
    valid_from: 'timestamptz',
    valid_until: 'timestamptz',
  },
  approvals: {
    owner: 'uuid',
    fact: 'uuid',
    maker: 'text',
    shop: 'text',
    scope: 'text',
    reason: 'text',
    valid_from: 'timestamptz',
    valid_until: 'timestamptz',
  },
  leave_ends: {
    owner: 'uuid',
    fact: 'uuid',
    maker: 'text',
    ends: 'uuid',
    ends_from: 'timestamptz',
    reason: 'text',
  },
  claims: {
    owner: 'uuid',
    fact: 'uuid',
    maker: 'text',
    unit_id: 'uuid',
    unit_kind: 'text',
    part: 'text',
    symptom: 'text',
    failure_mode: 'text',
    failed_from: 'timestamptz',
    failed_to: 'timestamptz',
    replaces: 'uuid',
    recorded_at: 'timestamptz',
  },
  claim_entries: {
    owner: 'uuid',
    fact: 'uuid',
    maker: 'text',
    claim: 'uuid',
    decision: 'text',
    told: 'text',
    recorded_at: 'timestamptz',
  },
  claim_texts: { owner: 'uuid', fact: 'uuid', maker: 'text', told: 'text' },
  terms: {
    maker: 'text',
    id: 'text',
    version: 'int',
    fact: 'uuid',
    valid_from: 'timestamptz',
    valid_until: 'timestamptz',
    content: 'text',
    fingerprint: 'text',
    recorded_at: 'timestamptz',
  },
  editions: {
    maker: 'text',
    edition: 'text',
    effective_from: 'timestamptz',
    digest: 'text',
    content: 'text',
    fact: 'uuid',
    published_at: 'timestamptz',
  },
  staged_leaves: { fact: 'uuid', entry: 'text' },
  outbox: { owner: 'uuid', fact: 'uuid', kind: 'text', recorded_at: 'timestamptz' },
} as const;

export type AppendedTable = keyof typeof columns;
export type Row<T extends AppendedTable> = { readonly [C in keyof (typeof columns)[T]]: string | number | null };

/**
 * Appends the rows; bytea columns take `\x…` text. Gives how many went in: a row whose key is taken does not, be it
 * one that this transaction may not see, so the caller compares the count.
 */
export async function insertRows<T extends AppendedTable>(tx: Tx, table: T, rows: readonly Row<T>[]): Promise<number> {
  if (rows.length === 0) return 0;
  const result = await tx.query({ name: `append-${table}`, text: statements[table], values: [JSON.stringify(rows)] });
  return result.rowCount ?? 0;
}

const statements = Object.fromEntries(
  Object.entries(columns).map(([table, types]) => {
    const names = Object.keys(types).join(', ');
    const typed = Object.entries(types)
      .map(([name, type]) => `${name} ${type}`)
      .join(', ');
    return [
      table,
      `insert into ${table} (${names}) select ${names} from jsonb_to_recordset($1::jsonb) as row (${typed}) ${conflict(table)}`,
    ];
  }),
) as Record<AppendedTable, string>;

/** A name that leads nowhere any more can be given anew. */
function conflict(table: string): string {
  if (table !== 'unit_names') return 'on conflict do nothing';
  return `on conflict (maker, unit_kind, name_key) do update
    set name_kind = excluded.name_kind, as_written = excluded.as_written, unit_id = excluded.unit_id, fact = excluded.fact
    where unit_names.name_kind = 'free'`;
}
