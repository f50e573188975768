import { asAt } from '../../core/history/concession.ts';
import type { UnitState } from '../../core/history/fold.ts';
import type { Tx } from '../transaction.ts';

/** The latest state of these units, from the view that readers may see, as it is at the beginning of the transaction. */
export async function readCurrent(tx: Tx, units: readonly string[]): Promise<UnitState[]> {
  if (units.length === 0) return [];
  const { rows } = await tx.query<{ state: string; now: string }>({
    name: 'read-current',
    text: `
      select state, transaction_timestamp() as now
      from unit_current where unit_id = any ($1::uuid[]) order by unit_id`,
    values: [units],
  });
  return rows.map(({ state, now }) => asAt(JSON.parse(state) as UnitState, now));
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
