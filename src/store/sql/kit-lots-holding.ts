import type { Tx } from '../transaction.ts';

/** A lot of kits that hold pieces of this element from that lot, as its owner states it now. */
export type Holding = {
  readonly owner: string;
  readonly kitLot: string;
  readonly element: string;
  readonly lot: string;
};

const piece = `(part #>> '{lot,maker}') || '/' || btrim(part #>> '{lot,number}')`;

/** Of facts, not of stock, which is for its owner alone; few lots are stated beside all else, and fewer have components. */
const holdings = `
  with stated as (
    select distinct on (owner, maker, statement::jsonb #>> '{lot,number}')
      owner, maker || '/' || (statement::jsonb #>> '{lot,number}') as kit_lot, statement
    from facts where kind = 'lot'
    order by owner, maker, statement::jsonb #>> '{lot,number}', (judgement::jsonb ->> 'version')::int desc)
  select stated.owner, stated.kit_lot as "kitLot", part ->> 'element' as element, ${piece} as lot
  from stated, jsonb_array_elements(stated.statement::jsonb -> 'components') as part`;

/** The lots of kits that hold pieces of these lots (MAKER/NUMBER), as far as the transaction may see. */
export async function kitLotsHolding(tx: Tx, lots: readonly string[]): Promise<Holding[]> {
  if (lots.length === 0) return [];
  const { rows } = await tx.query<Holding>({
    name: 'kit-lots-holding',
    text: `${holdings} where ${piece} = any ($1::text[]) order by stated.owner, stated.kit_lot`,
    values: [lots],
  });
  return rows;
}

/** The lots that pieces in these lots of kits (MAKER/NUMBER) are from, as far as the transaction may see. */
export async function piecesOfKitLots(tx: Tx, kits: readonly string[]): Promise<Holding[]> {
  if (kits.length === 0) return [];
  const { rows } = await tx.query<Holding>({
    name: 'pieces-of-kit-lots',
    text: `${holdings} where stated.kit_lot = any ($1::text[]) order by stated.owner, stated.kit_lot`,
    values: [kits],
  });
  return rows;
}
