import { findingAt } from '../../core/history/concession.ts';
import type { StandingFinding } from '../../core/history/fold.ts';
import type { Tx } from '../transaction.ts';
import { standsNow } from './stands-now.ts';

/** What is left out is not asked for. */
export type FindingsSought = {
  readonly severity: 'hold' | 'due';
  /** Of a distributor's own records; null: of all that the transaction may see. */
  readonly owner: string | null;
  readonly rule?: string;
  /** Of the record that opened it. */
  readonly shop?: string;
  /** Whose work ended at least so many days ago, by the database's clock. */
  readonly olderThanDays?: number;
};

/** Where a finding stands in the list; `digest` tells several of one record and unit apart. */
export type FindingPlace = { readonly fact: string; readonly unit: string; readonly digest: string };
export type StandingRow = FindingPlace & { readonly finding: StandingFinding };

/**
 * What holds units or is due on them now, that these records opened: by the record, the oldest first. A due that somebody
 * else has taken over is not among them, nor what is under a concession that has not ended. From the units that are not released, which are few, and not from the records.
 */
export async function listStandingFindings(
  tx: Tx,
  { severity, owner, rule, shop, olderThanDays }: FindingsSought,
  after: FindingPlace | null,
  most: number,
): Promise<StandingRow[]> {
  const { rows } = await tx.query<FindingPlace & { finding: string; now: string }>({
    name: 'list-standing-findings',
    text: `
      with standing as materialized (
        select distinct unit_id, (finding ->> 'fact')::uuid as fact, finding, md5(finding::text) as digest
        from unit_current cross join lateral jsonb_array_elements(state::jsonb -> 'open') as finding
        where status <> 'released' and finding ->> 'severity' = $1 and not finding ? 'handedOver' and ${standsNow}
          and ($2::text is null or finding ->> 'rule' = $2)
      )
      select fact, unit_id as unit, digest, finding::text, transaction_timestamp() as now
      from standing join facts on facts.id = standing.fact
      where ($3::uuid is null or facts.owner = $3)
        and ($4::text is null or coalesce(facts.statement::jsonb ->> 'shop', facts.statement::jsonb #>> '{body,shop}') = $4)
        and ($5::uuid is null or (fact, unit_id, digest) > ($5, $6::uuid, $7::text))
        and ($9::int is null or facts.performed_to <= transaction_timestamp() - make_interval(days => $9))
      order by fact, unit_id, digest limit $8`,
    values: [
      severity,
      rule ?? null,
      owner,
      shop ?? null,
      after?.fact ?? null,
      after?.unit ?? null,
      after?.digest ?? null,
      most,
      olderThanDays ?? null,
    ],
  });
  return rows.map(({ now, finding, ...place }) => ({
    ...place,
    finding: findingAt(JSON.parse(finding) as StandingFinding, now),
  }));
}
