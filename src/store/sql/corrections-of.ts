import type { Tx } from '../transaction.ts';

export type Correction = { readonly record: string; readonly fact: string };

/** What has replaced these records, as far as the transaction may see. */
export async function correctionsOf(tx: Tx, records: readonly string[]): Promise<Correction[]> {
  if (records.length === 0) return [];
  const { rows } = await tx.query<Correction>({
    name: 'corrections-of',
    text: `
      select correction.concerns as record, correction.id as fact
      from facts as record
      join facts as correction
        on correction.owner = record.owner and correction.concerns = record.id and correction.kind = 'correction'
      where record.id = any ($1::uuid[])`,
    values: [records],
  });
  return rows;
}
