import type { Tx } from '../transaction.ts';

/** A later judgement with the record that it is on. */
export type JudgementRow = {
  readonly id: string;
  readonly recordedAt: string;
  readonly judgement: string;
  readonly record: string;
  readonly kind: string;
  readonly statement: string;
  readonly performedFrom: string;
  readonly performedTo: string;
};

/** Judgements that this fact has caused, in the order in which they were given, as far as the transaction may see. */
export async function listJudgements(
  tx: Tx,
  { cause, known, after }: { readonly cause: string; readonly known: string | null; readonly after: string | null },
  most: number,
): Promise<JudgementRow[]> {
  const { rows } = await tx.query<JudgementRow>({
    name: 'list-judgements',
    text: `
      select again.owner, again.id, again.recorded_at as "recordedAt", again.judgement, record.id as record, record.kind,
        record.statement, record.performed_from as "performedFrom", record.performed_to as "performedTo"
      from mentions
      join facts as again on again.owner = mentions.owner and again.id = mentions.fact
      join facts as record on record.owner = again.owner and record.id = again.concerns
      where mentions.what = 'cause' and mentions.key = $1 and ($2::uuid is null or again.id > $2)
        and ($4::timestamptz is null or again.recorded_at <= $4)
      order by again.id limit $3`,
    values: [cause, after, most, known],
  });
  return rows;
}
