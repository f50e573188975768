import type { Tx } from '../transaction.ts';

/** How these records were judged last, where they were judged again: the text of that judgement, by record. */
export async function lastJudgements(tx: Tx, records: readonly string[]): Promise<Map<string, string>> {
  if (records.length === 0) return new Map();
  const { rows } = await tx.query<{ record: string; judgement: string }>({
    name: 'last-judgements',
    text: `
      select distinct on (again.concerns) again.concerns as record, again.judgement
      from facts as record
      join facts as again on again.owner = record.owner and again.concerns = record.id and again.kind = 'judgement'
      where record.id = any ($1::uuid[])
      order by again.concerns, again.recorded_at desc, again.id desc`,
    values: [records],
  });
  return new Map(rows.map((row) => [row.record, row.judgement]));
}
