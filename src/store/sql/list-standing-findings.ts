import { findingAt } from '../../core/history/concession.ts';
import type { StandingFinding } from '../../core/history/fold.ts';
import type { Tx } from '../transaction.ts';
import { type FindingsSought, withStanding } from './standing-findings.ts';

/** Where a finding stands in the list; `digest` tells several of one record and unit apart. */
export type FindingPlace = { readonly fact: string; readonly unit: string; readonly digest: string };
/** `dueBy`: when a due is overdue; null: it is by a containment that doesn't say. */
export type StandingRow = FindingPlace & {
  readonly finding: StandingFinding;
  readonly dueBy: string | null;
  readonly overdue: boolean;
};

/**
 * What holds units or is due on them now, that these records opened: by the record, the oldest first. A due that somebody
 * else has taken over is among them where that is asked for alone, and what is under a concession that has not ended never.
 */
export async function listStandingFindings(
  tx: Tx,
  sought: FindingsSought,
  after: FindingPlace | null,
  most: number,
): Promise<StandingRow[]> {
  const values: unknown[] = [];
  const of = (value: unknown, type: string) => `$${values.push(value)}::${type}`;
  const text = `
    ${withStanding(sought, of)}
    select owner, fact, unit, digest, finding::text, due_by as "dueBy", overdue, ${sought.asKnown === undefined ? 'transaction_timestamp()' : of(sought.asKnown.now, 'timestamptz')} as now
    from found
    ${after === null ? '' : `where (fact, unit, digest) > (${of(after.fact, 'uuid')}, ${of(after.unit, 'uuid')}, ${of(after.digest, 'text')})`}
    order by fact, unit, digest limit ${of(most, 'int')}`;
  const { rows } = await tx.query<Omit<StandingRow, 'finding'> & { owner: string; finding: string; now: string }>(
    text,
    values,
  );
  return rows.map(({ now, owner: _, finding, ...place }) => ({
    ...place,
    finding: findingAt(JSON.parse(finding) as StandingFinding, now),
  }));
}
