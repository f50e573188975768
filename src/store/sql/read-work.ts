import type { Effect, Placed, UnitEvent } from '../../core/history/event.ts';
import type { Tx } from '../transaction.ts';

/** An event without what it did but for what decides whether it counts, and in whose place. */
export type Work = Omit<UnitEvent, 'prev' | 'effect'> & {
  readonly effect: Pick<Effect, 'replaces' | 'judges' | 'placed'>;
};

/**
 * When what was done to these units, by unit and seq. Only the recorder may. An effect is looked into only where the kind
 * says that it has what is asked for: whole they are most of what a reach would read.
 */
export async function readWork(tx: Tx, units: readonly string[]): Promise<Work[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<
    Omit<Work, 'seq' | 'effect'> & {
      seq: string;
      replaces: string | null;
      judges: string | null;
      placed: string | null;
    }
  >({
    name: 'read-work',
    text: `
      select unit_id as unit, seq, fact, kind, performed_from as "performedFrom", performed_to as "performedTo",
        recorded_at as "recordedAt", after,
        case kind when 'correction' then effect::jsonb ->> 'replaces' end as replaces,
        case kind when 'judgement' then effect::jsonb ->> 'judges' end as judges,
        case kind when 'judgement' then (effect::jsonb -> 'placed')::text end as placed
      from unit_events where unit_id = any ($1::uuid[]) order by unit_id, seq`,
    values: [units],
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
