import type { Effect, UnitEvent } from '../../core/history/event.ts';
import type { Tx } from '../transaction.ts';
import { byIds, type WhichUnits } from './which-units.ts';

type EventRow = Omit<UnitEvent, 'seq' | 'effect'> & { seq: string; effect: string };

/** Every event of these units, by unit and seq. Only the recorder may. */
export async function readEvents(tx: Tx, units: readonly string[]): Promise<UnitEvent[]> {
  return units.length === 0 ? [] : await eventsOf(tx, byIds(units));
}

export async function eventsOf(tx: Tx, { as, ids, values }: WhichUnits): Promise<UnitEvent[]> {
  const { rows } = await tx.query<EventRow>({
    name: `read-events-${as}`,
    text: `
      select unit_id as unit, seq, prev, fact, kind, performed_from as "performedFrom", performed_to as "performedTo",
        recorded_at as "recordedAt", after, effect
      from unit_events where unit_id = any (${ids}) order by unit_id, seq`,
    values: [...values],
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

/** The units that these facts touched; for the recorder. */
export async function unitsOfFacts(tx: Tx, facts: readonly string[]): Promise<{ fact: string; unit: string }[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<{ fact: string; unit: string }>({
    name: 'units-of-facts',
    text: 'select fact, unit_id as unit from unit_events where fact = any ($1::uuid[]) order by fact, unit_id',
    values: [facts],
  });
  return rows;
}
