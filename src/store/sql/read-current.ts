import { asAt } from '../../core/history/concession.ts';
import type { UnitState } from '../../core/history/fold.ts';
import type { Tx } from '../transaction.ts';

/** The latest state of these units, from the view that readers may see, as it is at the beginning of the transaction. */
export async function readCurrent(tx: Tx, units: readonly string[]): Promise<UnitState[]> {
  return await statesOf(tx, units, { name: 'read-current', sought: '$1::uuid[]' });
}

/** The same of the units that these facts touched. */
export async function readCurrentInFacts(tx: Tx, facts: readonly string[]): Promise<UnitState[]> {
  const touched = 'select unit_id from unit_dates where fact = any ($1::uuid[])';
  return await statesOf(tx, facts, { name: 'read-current-in-facts', sought: `array(${touched})` });
}

async function statesOf(
  tx: Tx,
  ids: readonly string[],
  { name, sought }: { name: string; sought: string },
): Promise<UnitState[]> {
  if (ids.length === 0) return [];
  const { rows } = await tx.query<{ state: string; now: string }>({
    name,
    text: `
      select state, transaction_timestamp() as now
      from unit_current where unit_id = any (${sought}) order by unit_id`,
    values: [ids],
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

/** The units that these facts touched, for readers. */
export async function unitsInFacts(tx: Tx, facts: readonly string[]): Promise<{ fact: string; unit: string }[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<{ fact: string; unit: string }>({
    name: 'units-in-facts',
    text: 'select fact, unit_id as unit from unit_dates where fact = any ($1::uuid[]) order by fact, unit_id',
    values: [facts],
  });
  return rows;
}
