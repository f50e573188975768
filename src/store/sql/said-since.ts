import type { Tx } from '../transaction.ts';

export type SaidSince = {
  readonly record: string;
  readonly fact: string;
  readonly recordedAt: string;
  readonly kind: 'correction' | 'instrument-void' | 'judgement';
};

/** What has replaced these records or judged them again, in that order; as far as the transaction may see. */
export async function saidSince(tx: Tx, records: readonly string[]): Promise<SaidSince[]> {
  if (records.length === 0) return [];
  const { rows } = await tx.query<SaidSince>({
    name: 'said-since',
    text: `
      select since.concerns as record, since.id as fact, since.kind, since.recorded_at as "recordedAt"
      from facts as record
      join facts as since
        on since.owner = record.owner and since.concerns = record.id
          and since.kind in ('correction', 'instrument-void', 'judgement')
      where record.id = any ($1::uuid[])
      order by since.id`,
    values: [records],
  });
  return rows;
}
