import type { UnitKind } from '../../core/history/event.ts';
import type { UnitState } from '../../core/history/fold.ts';
import type { Tx } from '../transaction.ts';

export type StockSought = {
  readonly owner: string;
  readonly maker: string;
  /** Null: any of the owner's. */
  readonly shop: string | null;
  /** Of controls: on which the function can be. */
  readonly bodies: readonly string[];
};
export type StockUnitRow = {
  readonly unit: string;
  readonly kind: UnitKind;
  readonly shop: string | null;
  /** When it came in, or was first seen. */
  readonly since: string;
  /** Whether a movement says that it is there; else it was registered, and nothing says that it left or ran. */
  readonly isStated: boolean;
  readonly state: UnitState;
};

/**
 * What a distributor has in its shops: pumps, and controls of these bodies. By the movement that brought each in, so
 * that only what is in stock is looked at; and what it registered and nobody moved since. `there` is made once: without
 * statistics it was made again for each fact of the distributor (42 facts, 21 units: 124 ms against 8 ms).
 */
export async function listStockUnits(tx: Tx, { owner, maker, shop, bodies }: StockSought): Promise<StockUnitRow[]> {
  const { rows } = await tx.query<Omit<StockUnitRow, 'state'> & { state: string }>({
    name: 'list-stock-units',
    text: `
      with there as materialized (
        select unit_id, fact, true as stated
        from unit_current join (select id as fact from facts where owner = $1::uuid and kind in ('movement', 'correction')) moved
          on moved.fact = came_in
        union all
        select registrations.unit_id, registrations.fact, false
        from registrations join unit_current using (unit_id)
        where owner = $1 and came_in is null
          and state::jsonb -> 'custody' = 'null' and state::jsonb -> 'retired' = 'null'
          and not exists (
            select from unit_dates where unit_dates.unit_id = registrations.unit_id and unit_dates.kind = 'start-up'))
      select unit_id as unit, unit_kind as kind, said.shop, performed_to as since, stated as "isStated", state
      from there join unit_current using (unit_id) join facts on facts.owner = $1 and facts.id = there.fact
        cross join lateral (
          select coalesce(statement::jsonb ->> 'shop', statement::jsonb #>> '{body,shop}') as shop) as said
      where unit_current.maker = $2 and state::jsonb ->> 'mergedInto' is null
        and ($3::text is null or said.shop = $3)
        and (unit_kind = 'pump' or state::jsonb #>> '{born,body}' = any ($4::text[]))
      order by performed_to, unit_id`,
    values: [owner, maker, shop, bodies],
  });
  return rows.map((row) => ({ ...row, state: JSON.parse(row.state) as UnitState }));
}
