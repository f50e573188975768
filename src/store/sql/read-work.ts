import type { Effect, Placed, UnitEvent } from '../../core/history/event.ts';
import type { Tx } from '../transaction.ts';

/** An event without what it did but for what decides whether it counts, and in whose place. */
export type Work = Omit<UnitEvent, 'prev' | 'effect'> & {
  readonly effect: Pick<Effect, 'replaces' | 'judges' | 'placed'>;
};

/**
 * When what was done to these units from the last of the records on, by unit and seq; all of it where none is of the unit.
 * Only the recorder may. Where nothing was corrected, judged again or put after something, the order of work is that of the
 * ends of intervals, and nothing earlier can come after the records: so it stays where it is. An effect is looked into only where the kind says that
 * it has what is asked for: whole they are most of what a reach would read.
 */
export async function readWorkSince(tx: Tx, units: readonly string[], records: readonly string[]): Promise<Work[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<
    Omit<Work, 'seq' | 'effect'> & {
      seq: string;
      replaces: string | null;
      judges: string | null;
      placed: string | null;
    }
  >({
    name: 'read-work-since',
    text: `
      select unit_id as unit, seq, fact, kind, performed_from as "performedFrom", performed_to as "performedTo",
        recorded_at as "recordedAt", after, replaces, judges, placed
      from (
        select unit_id, seq, fact, kind, performed_from, performed_to, recorded_at, after,
          case kind when 'correction' then effect::jsonb ->> 'replaces' end as replaces,
          case kind when 'judgement' then effect::jsonb ->> 'judges' end as judges,
          case kind when 'judgement' then (effect::jsonb -> 'placed')::text end as placed,
          bool_or(after is not null or kind in ('correction', 'judgement')) over of_unit as "isFolded",
          max(least(performed_to, recorded_at)) filter (where fact in (select unnest($2::uuid[]))) over of_unit as "since"
        from unit_events where unit_id = any ($1::uuid[])
        window of_unit as (partition by unit_id)) as work
      where "isFolded" or "since" is null or least(performed_to, recorded_at) >= "since"
      order by unit_id, seq`,
    values: [units, records],
  });
  return rows.map(({ seq, replaces, judges, placed, ...row }) => ({
    ...row,
    seq: Number(seq),
    effect: {
      ...(replaces !== null && { replaces }),
      ...(judges !== null && { judges }),
      ...(placed !== null && { placed: JSON.parse(placed) as Placed | null }),
    },
  }));
}
