import type { Tx } from '../transaction.ts';

/**
 * A query to begin a statement with: by when each unit under these containments is to be seen to. That is so long after the
 * issue, or after the unit was added; a unit that was reached at issue came in again, by a fact of its own, right after it.
 * Where nobody said by when, there is no row. Whoever tells what is overdue takes it from here.
 * @param which what else is true of the containments, as `facts`
 */
export const containedDue = (which: string) => `
  contained_due as materialized (
    with containing as materialized (
      select owner, id, recorded_at, judgement, (statement::jsonb ->> 'dueWithin')::interval as within
      from facts where kind = 'containment' and statement like '%"dueWithin"%' and statement::jsonb ? 'dueWithin' and ${which}
    ), came as (
      select containing.owner, containing.id, (reached ->> 0)::uuid as unit, recorded_at
      from containing cross join lateral jsonb_array_elements(judgement::jsonb -> 'reached') as reached
      union all
      select facts.owner, facts.concerns, (facts.statement::jsonb ->> 'unit')::uuid, facts.recorded_at
      from containing join facts on facts.owner = containing.owner and facts.concerns = containing.id
      where facts.kind = 'containment-unit' and facts.statement::jsonb ->> 'is' = 'in'
    )
    select owner, came.id as containment, unit, (min(came.recorded_at) at time zone 'UTC' + within) at time zone 'UTC' as due_by
    from came join containing using (owner, id) group by owner, came.id, unit, within
  )`;

/** Of units of these containments, by both. */
export async function duesOfContained(tx: Tx, containments: readonly string[]): Promise<Map<string, string>> {
  if (containments.length === 0) return new Map();
  const { rows } = await tx.query<{ containment: string; unit: string; dueBy: string }>({
    name: 'dues-of-contained',
    text: `with ${containedDue('id = any ($1::uuid[])')} select containment, unit, due_by as "dueBy" from contained_due`,
    values: [containments],
  });
  return new Map(rows.map(({ containment, unit, dueBy }) => [`${containment}.${unit}`, dueBy]));
}
