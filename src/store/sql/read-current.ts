import { asAt } from '../../core/history/concession.ts';
import type { UnitKind } from '../../core/history/event.ts';
import type { UnitState } from '../../core/history/fold.ts';
import type { Tx } from '../transaction.ts';
import { byIds, judgementsOf, type WhichUnits } from './which-units.ts';

/** The latest state of these units, from the view that readers may see, as it is at the beginning of the transaction. */
export async function readCurrent(tx: Tx, units: readonly string[]): Promise<UnitState[]> {
  return units.length === 0 ? [] : (await readCurrentUnits(tx, byIds(units))).map(({ state }) => state);
}

export type CurrentUnit = { readonly maker: string; readonly kind: UnitKind; readonly state: UnitState };

/** The same with whose make they are. */
export async function readCurrentUnits(tx: Tx, { as, ids, values }: WhichUnits): Promise<CurrentUnit[]> {
  const { rows } = await tx.query<CurrentRow>({
    name: `read-current-${as}`,
    text: `select ${current} from unit_current where unit_id = any (${ids}) order by unit_id`,
    values: [...values],
  });
  return rows.map(currentIn);
}

type CurrentRow = { readonly maker: string; readonly kind: UnitKind; readonly state: string; readonly now: string };
const current = 'maker, unit_kind as kind, state, transaction_timestamp() as now';

function currentIn({ maker, kind, state, now }: CurrentRow): CurrentUnit {
  return { maker, kind, state: asAt(JSON.parse(state) as UnitState, now) };
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

/**
 * For readers the units that these facts touched, and those that they turned out to have touched when they were judged again,
 * as far as that was known.
 */
export async function unitsInFacts(
  tx: Tx,
  facts: readonly string[],
  known: string | null = null,
): Promise<{ fact: string; unit: string }[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<{ fact: string; unit: string }>({
    name: 'units-in-facts',
    text: `${touched(`$2::timestamptz is null or dated.recorded_at <= $2`)} order by fact, unit`,
    values: [facts, known],
  });
  return rows;
}

/** The same units as they are now, each with the facts, by unit. */
export async function currentInFacts(
  tx: Tx,
  facts: readonly string[],
): Promise<(CurrentUnit & { readonly facts: readonly string[] })[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<CurrentRow & { facts: string[] }>({
    name: 'current-in-facts',
    text: `
      select ${current}, facts
      from (select unit, array_agg(fact) as facts from (${touched('true')}) as each group by unit) as touched
      join unit_current on unit_id = unit order by unit`,
    values: [facts],
  });
  return rows.map((row) => ({ ...currentIn(row), facts: row.facts }));
}

function touched(again: string): string {
  return `
    select fact, unit_id as unit from unit_dates where fact = any ($1::uuid[])
    union
    select record, dated.unit_id
    from (${judgementsOf}) as again join unit_dates as dated using (fact) where ${again}`;
}
