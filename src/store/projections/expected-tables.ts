/**
 * The tables that are verified, each beside a temporary `expected_…` table that holds what its rows should be. Both
 * are compared, and one renewed from the other, by SQL made from this list.
 */
import type { Tx } from '../transaction.ts';

export type ExpectedTable = {
  readonly table: string;
  /** What finds a row's counterpart. */
  readonly key: readonly string[];
  /** What is compared besides. */
  readonly columns: readonly string[];
  /** Rows that have no key of their own: they are counted within the key, in this order. */
  readonly countedBy?: string;
  /** The rows themselves are given: only columns are compared, of those that could be read. */
  readonly given?: boolean;
};

export const expectedTables = [
  {
    table: 'facts',
    key: ['owner', 'id'],
    columns: ['maker', 'edition', 'performed_from', 'performed_to', 'after', 'concerns', 'entry'],
    given: true,
  },
  {
    table: 'unit_events',
    key: ['unit_id', 'seq'],
    columns: ['prev', 'fact', 'kind', 'performed_from', 'performed_to', 'recorded_at', 'after', 'effect'],
  },
  { table: 'unit_heads', key: ['unit_id'], columns: ['seq', 'entry', 'recorded_at'] },
  {
    table: 'unit_states',
    key: ['unit_id'],
    columns: ['maker', 'unit_kind', 'seq', 'function', 'status', 'mounted_with', 'came_in', 'state'],
  },
  { table: 'unit_findings', key: ['unit_id', 'nth'], columns: ['fact', 'severity', 'finding'] },
  {
    table: 'unit_names',
    key: ['maker', 'unit_kind', 'name_key'],
    columns: ['name_kind', 'as_written', 'unit_id', 'fact'],
  },
  {
    table: 'part_uses',
    key: ['owner', 'fact', 'line'],
    columns: [
      ...(['maker', 'unit_id', 'role', 'place', 'item', 'quantity', 'lot_maker', 'lot_number'] as const),
      ...(['shop', 'reference', 'performed_to', 'serial_maker', 'serial_key'] as const),
    ],
  },
  { table: 'lot_sums', key: ['owner', 'lot_maker', 'lot_number', 'shop', 'item'], columns: ['quantity'] },
  { table: 'mentions', key: ['owner', 'what', 'key', 'performed_to', 'fact'], columns: ['maker'] },
  { table: 'record_references', key: ['owner', 'kind', 'reference'], columns: ['fact'] },
  { table: 'registrations', key: ['owner', 'unit_id'], columns: ['fact', 'fingerprint', 'answer'] },
  { table: 'stock_items', key: ['owner', 'kind', 'key'], columns: ['fact', 'version', 'fingerprint', 'statement'] },
  {
    table: 'intakes',
    key: ['owner', 'fact'],
    columns: [
      ...(['lot_maker', 'lot_number', 'shop', 'quantity', 'performed_to', 'what', 'reference'] as const),
      ...(['location', 'counts', 'item', 'loose', 'origin', 'station'] as const),
    ],
  },
  {
    table: 'instrument_events',
    key: ['owner', 'fact'],
    columns: ['instrument', 'kind', 'performed_from', 'performed_to', 'statement'],
  },
  { table: 'authorisations', key: ['owner', 'fact'], columns: ['person', 'scope', 'valid_from', 'valid_until'] },
  {
    table: 'approvals',
    key: ['owner', 'fact'],
    columns: ['maker', 'shop', 'scope', 'reason', 'valid_from', 'valid_until'],
  },
  { table: 'leave_ends', key: ['owner', 'fact'], columns: ['maker', 'ends', 'ends_from', 'reason'] },
  {
    table: 'claims',
    key: ['owner', 'fact'],
    columns: [
      ...(['maker', 'unit_id', 'unit_kind', 'part', 'symptom', 'failure_mode', 'failed_from', 'failed_to'] as const),
      ...(['replaces', 'recorded_at'] as const),
    ],
  },
  {
    table: 'claim_entries',
    key: ['owner', 'fact'],
    columns: ['maker', 'claim', 'decision', 'told', 'recorded_at'],
  },
  { table: 'claim_texts', key: ['owner', 'fact'], columns: ['maker', 'told'] },
  {
    table: 'terms',
    key: ['maker', 'id', 'version'],
    columns: ['fact', 'valid_from', 'valid_until', 'content', 'fingerprint', 'recorded_at'],
  },
  {
    table: 'editions',
    key: ['maker', 'edition'],
    columns: ['effective_from', 'digest', 'content', 'fact', 'published_at'],
  },
  { table: 'all_leaves', key: ['fact'], columns: ['entry'], countedBy: 'entry' },
  { table: 'outbox', key: ['owner', 'fact'], columns: ['kind', 'recorded_at'], countedBy: 'kind' },
] as const satisfies readonly ExpectedTable[];

export type ExpectedName = (typeof expectedTables)[number]['table'] | 'effects';

/** Rows as JSON has them, by the columns of the table; a column left out is null. */
export type ExpectedRow = Readonly<Record<string, string | number | null>>;

/**
 * Makes the empty tables; they go with the transaction. Besides the expected rows, `expected_facts` holds the digests
 * that an entry is recomputed from, `expected_registrations` what is answered besides the receipt, and `expected_effects` what each fact says it did to a unit: events without their
 * place in the unit's chain.
 */
export async function createExpected(tx: Tx): Promise<void> {
  for (const { table, key, columns } of expectedTables) {
    if (table === 'unit_events') continue;
    await tx.query(
      `create temp table expected_${table} on commit drop as
       select ${[...key, ...columns].join(', ')} from ${table} with no data`,
    );
  }
  await tx.query('alter table expected_facts add digests text');
  await tx.query('alter table expected_registrations add stated text');
  await tx.query(
    `create temp table expected_effects on commit drop as
     select f.owner, f.entry, f.maker, e.unit_id, e.fact, e.kind, e.performed_from, e.performed_to, e.recorded_at,
       e.after, e.effect
     from facts f, unit_events e with no data`,
  );
}

export async function insertExpected(tx: Tx, table: ExpectedName, rows: readonly ExpectedRow[]): Promise<void> {
  if (rows.length === 0) return;
  await tx.query(
    `insert into expected_${table} select * from jsonb_populate_recordset(null::expected_${table}, $1::jsonb)`,
    [JSON.stringify(rows)],
  );
}
