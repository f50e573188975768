/** What a trace reads beside the records of a unit; as far as the transaction may see. */
import type { Tx } from '../transaction.ts';

export type JudgedSince = {
  readonly record: string;
  readonly fact: string;
  readonly cause: string | null;
  readonly judgement: string;
};

/** The latest judgement on each of these records that was recorded by then. */
export async function judgedSince(tx: Tx, records: readonly string[], known: string): Promise<JudgedSince[]> {
  if (records.length === 0) return [];
  const { rows } = await tx.query<JudgedSince>({
    name: 'judged-since',
    text: `
      select distinct on (again.concerns) again.owner, again.concerns as record, again.id as fact,
        again.statement::jsonb ->> 'cause' as cause, again.judgement
      from facts as record
      join facts as again on again.owner = record.owner and again.concerns = record.id and again.kind = 'judgement'
      where record.id = any ($1::uuid[]) and again.recorded_at <= $2::timestamptz
      order by again.concerns, again.id desc`,
    values: [records, known],
  });
  return rows;
}

export type DecidedOf = {
  readonly record: string;
  readonly fact: string;
  readonly performedTo: string;
  readonly recordedAt: string;
  readonly statement: string;
};

/** What was decided about these records, in the order in which it was recorded. */
export async function dispositionsOf(tx: Tx, records: readonly string[], known: string): Promise<DecidedOf[]> {
  if (records.length === 0) return [];
  const { rows } = await tx.query<DecidedOf>({
    name: 'dispositions-of',
    text: `
      select decided.owner, decided.concerns as record, decided.id as fact, decided.performed_to as "performedTo",
        decided.recorded_at as "recordedAt", decided.statement
      from facts as record
      join facts as decided
        on decided.owner = record.owner and decided.concerns = record.id and decided.kind = 'disposition'
      where record.id = any ($1::uuid[]) and decided.recorded_at <= $2::timestamptz
      order by decided.id`,
    values: [records, known],
  });
  return rows;
}

export type AttemptRow = {
  readonly id: string;
  readonly at: string;
  readonly kind: string;
  readonly findings: string;
};

/** Refused bodies of this owner that name one of these units, the latest first. */
export async function attemptsNaming(
  tx: Tx,
  owner: string,
  names: { readonly controls: readonly string[]; readonly pumps: readonly string[] },
  known: string,
  most: number,
): Promise<AttemptRow[]> {
  const { rows } = await tx.query<AttemptRow>({
    name: 'attempts-naming',
    text: `
      select id, at, kind, findings from attempts
      where owner = $1::uuid and at <= $4::timestamptz
        and (coalesce(body::jsonb #>> '{control,serial}', body::jsonb #>> '{control,tag}') = any ($2::text[])
          or coalesce(body::jsonb #>> '{pump,serial}', body::jsonb #>> '{pump,tag}') = any ($3::text[]))
      order by at desc, id limit $5`,
    values: [owner, names.controls, names.pumps, known, most],
  });
  return rows;
}
