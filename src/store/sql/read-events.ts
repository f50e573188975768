import type { Effect, UnitEvent } from '../../core/history/event.ts';
import type { Tx } from '../transaction.ts';

type EventRow = Omit<UnitEvent, 'seq' | 'effect'> & { seq: string; effect: string };

/** Every event of these units, by unit and seq. Only the recorder may. */
export async function readEvents(tx: Tx, units: readonly string[]): Promise<UnitEvent[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<EventRow>({
    name: 'read-events',
    text: `
      select unit_id as unit, seq, prev, fact, kind, performed_from as "performedFrom", performed_to as "performedTo",
        recorded_at as "recordedAt", after, effect
      from unit_events where unit_id = any ($1::uuid[]) order by unit_id, seq`,
    values: [units],
  });
  return rows.map((row) => ({ ...row, seq: Number(row.seq), effect: JSON.parse(row.effect) as Effect }));
}

/** The units that these were ever mounted with. */
export async function counterpartsOf(tx: Tx, units: readonly string[]): Promise<string[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<{ unit: string }>({
    name: 'counterparts-of',
    text: `
      select distinct effect::jsonb #>> '{mounted,with}' as unit
      from unit_events where unit_id = any ($1::uuid[]) and effect like '%"mounted"%'`,
    values: [units],
  });
  return rows.map((row) => row.unit);
}

/** The units that these facts touched. */
export async function unitsOfFacts(tx: Tx, facts: readonly string[]): Promise<{ fact: string; unit: string }[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<{ fact: string; unit: string }>({
    name: 'units-of-facts',
    text: 'select fact, unit_id as unit from unit_events where fact = any ($1::uuid[]) order by fact, unit_id',
    values: [facts],
  });
  return rows;
}

/**
 * The same, and of movements, start-ups and corrections also the units that they turned out to have touched, as judgements say.
 * @param known by when; null: by now
 */
export async function unitsReachedBy(
  tx: Tx,
  facts: readonly string[],
  known: string | null,
): Promise<{ fact: string; unit: string }[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<{ fact: string; unit: string }>({
    name: 'units-reached-by',
    text: `
      select fact, unit_id as unit from unit_events where fact = any ($1::uuid[])
      union
      select own.fact, reached.unit_id as unit
      from unit_events as own
        join unit_events as again on again.unit_id = own.unit_id and again.kind = 'judgement'
          and again.effect like '%"judges":"' || own.fact || '"%'
          and ($2::timestamptz is null or again.recorded_at <= $2)
        join unit_events as reached on reached.fact = again.fact
      where own.fact = any ($1::uuid[]) and own.kind in ('movement', 'start-up', 'correction')
      order by fact, unit`,
    values: [facts, known],
  });
  return rows;
}
