import type { Tx } from '../transaction.ts';

/** What stands open, as rows of `unit_findings`: what stands twice is one. From a table that has `unit_id` and `state`. */
export const findingsOf = (states: string) => `
  select unit_id, min(nth)::int - 1 as nth, (finding::json ->> 'fact')::uuid as fact, finding::json ->> 'severity' as severity, finding
  from (
    select unit_id, nth, finding::text as finding
    from ${states} cross join lateral json_array_elements(state::json -> 'open') with ordinality as open (finding, nth)
  ) as open
  group by unit_id, finding`;

/** After their states were written, whose locks keep others from the same units. */
export async function renewFindings(tx: Tx, units: readonly string[]): Promise<void> {
  if (units.length === 0) return;
  await tx.query({
    name: 'renew-findings-of-units',
    text: `
      with standing as (${findingsOf('(select unit_id, state from unit_states where unit_id = any ($1::uuid[])) as states')}),
      gone as (
        delete from unit_findings as found
        where found.unit_id = any ($1::uuid[]) and not exists (
          select from standing where standing.unit_id = found.unit_id and standing.nth = found.nth))
      insert into unit_findings as found (unit_id, nth, fact, severity, finding)
      select unit_id, nth, fact, severity, finding from standing
      on conflict (unit_id, nth) do update
      set fact = excluded.fact, severity = excluded.severity, finding = excluded.finding
      where found.finding <> excluded.finding`,
    values: [[...new Set(units)]],
  });
}
