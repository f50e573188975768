import type { Tx } from '../transaction.ts';
import { type FindingsSought, withStanding } from './standing-findings.ts';

/** Days from the first to the last of each, both in it; null: without a last. */
export const ageBands = [
  { from: 0, to: 7 },
  { from: 8, to: 30 },
  { from: 31, to: 90 },
  { from: 91, to: null },
] as const;

export type FindingsCounted = {
  readonly shop: string | null;
  readonly rule: string;
  readonly days: { readonly from: number; readonly to: number | null };
  readonly findings: number;
  /** On how many units. */
  readonly units: number;
  readonly overdue: number;
};

/** How many of them there are, by shop, rule and age; in that order, and no line for what there is none of. */
export async function countStandingFindings(tx: Tx, sought: FindingsSought): Promise<FindingsCounted[]> {
  const values: unknown[] = [];
  const of = (value: unknown, type: string) => `$${values.push(value)}::${type}`;
  const text = `
    ${withStanding(sought, of)}
    select shop, finding ->> 'rule' as rule, width_bucket(age, ${of(ageBands.map(({ from }) => from).slice(1), 'int[]')}) as band,
      count(*)::int as findings, count(distinct unit)::int as units, count(*) filter (where overdue)::int as overdue
    from found group by 1, 2, 3 order by 1, 2, 3`;
  const { rows } = await tx.query<Omit<FindingsCounted, 'days'> & { band: number }>(text, values);
  return rows.map(({ band, shop, rule, ...counts }) => ({
    shop,
    rule,
    days: ageBands[band] ?? ageBands[0],
    ...counts,
  }));
}
