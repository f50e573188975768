import type { UnitState } from '../../core/history/fold.ts';
import type { Tx } from '../transaction.ts';

/** The latest state of these units, from the view that readers may see. */
export async function readCurrent(tx: Tx, units: readonly string[]): Promise<UnitState[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<{ state: string }>({
    name: 'read-current',
    text: 'select state from unit_current where unit_id = any ($1::uuid[]) order by unit_id',
    values: [units],
  });
  return rows.map((row) => JSON.parse(row.state) as UnitState);
}

export type UnitDate = {
  readonly seq: number;
  readonly fact: string;
  readonly kind: string;
  readonly performedFrom: string;
  readonly performedTo: string;
  readonly recordedAt: string;
};

/** When something was done to a unit, and what kind of work it was; by whom is not for every reader. */
export async function readDates(tx: Tx, unit: string): Promise<UnitDate[]> {
  const { rows } = await tx.query<Omit<UnitDate, 'seq'> & { seq: string }>({
    name: 'read-dates',
    text: `
      select seq, fact, kind, performed_from as "performedFrom", performed_to as "performedTo", recorded_at as "recordedAt"
      from unit_dates where unit_id = $1 order by seq`,
    values: [unit],
  });
  return rows.map((row) => ({ ...row, seq: Number(row.seq) }));
}
