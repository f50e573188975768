import type { UnitKind } from '../../core/history/event.ts';
import type { UnitState } from '../../core/history/fold.ts';
import type { Tx } from '../transaction.ts';

export type CurrentUnit = { readonly maker: string; readonly kind: UnitKind; readonly state: UnitState };

/** The latest state of these units with whose make they are, from the view that readers may see. */
export async function readCurrentUnits(tx: Tx, units: readonly string[]): Promise<CurrentUnit[]> {
  const { rows } = await tx.query<{ maker: string; kind: UnitKind; state: string }>({
    name: 'read-current-units',
    text: `
      select maker, unit_kind as kind, state from unit_current where unit_id = any ($1::uuid[]) order by unit_id`,
    values: [units],
  });
  return rows.map(({ maker, kind, state }) => ({ maker, kind, state: JSON.parse(state) as UnitState }));
}
