import type { Tx } from '../transaction.ts';
import { type ExpectedTable, expectedTables } from './expected-tables.ts';

/** What `rebuild` drops and renews, in the order in which a recording of known units takes them. */
const renewed = [
  'unit_heads',
  'record_references',
  'unit_names',
  'unit_states',
  'unit_findings',
  'part_uses',
  'lot_sums',
  'mentions',
  'stock_items',
  'intakes',
  'instrument_events',
  'authorisations',
  'approvals',
  'leave_ends',
  'claims',
  'claim_entries',
  'claim_texts',
  'terms',
];

/** Waits for recordings under way and lets none begin; reading goes on. */
export async function lockRenewed(tx: Tx): Promise<void> {
  await tx.query(`lock table ${renewed.join(', ')} in exclusive mode`);
}

/** Replaces the rows of these tables by those expected. Gives how many rows each has. */
export async function renewTables(tx: Tx): Promise<{ table: string; rows: number }[]> {
  // A fingerprint that is gone with its row: the next statement of the same then counts as a new version.
  await tx.query(`update expected_stock_items set fingerprint = '' where fingerprint is null`);
  const counts: { table: string; rows: number }[] = [];
  for (const table of renewed) {
    const columns = columnsOf(table).join(', ');
    await tx.query(`delete from ${table}`);
    const result = await tx.query(`insert into ${table} (${columns}) select ${columns} from expected_${table}`);
    counts.push({ table, rows: result.rowCount ?? 0 });
  }
  return counts;
}

function columnsOf(table: string): string[] {
  const spec: ExpectedTable | undefined = expectedTables.find((one) => one.table === table);
  return spec === undefined ? [] : [...spec.key, ...spec.columns];
}
