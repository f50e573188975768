import { asAt } from '../../core/history/concession.ts';
import type { UnitKind } from '../../core/history/event.ts';
import type { UnitState } from '../../core/history/fold.ts';
import type { Tx } from '../transaction.ts';

export type CurrentUnit = { readonly maker: string; readonly kind: UnitKind; readonly state: UnitState };

/** As `readCurrent`, with whose make they are. */
export async function readCurrentUnits(tx: Tx, units: readonly string[]): Promise<CurrentUnit[]> {
  const { rows } = await tx.query<{ maker: string; kind: UnitKind; state: string; now: string }>({
    name: 'read-current-units',
    text: `
      select maker, unit_kind as kind, state, transaction_timestamp() as now
      from unit_current where unit_id = any ($1::uuid[]) order by unit_id`,
    values: [units],
  });
  return rows.map(({ maker, kind, state, now }) => ({ maker, kind, state: asAt(JSON.parse(state) as UnitState, now) }));
}
