import type { Tx } from '../transaction.ts';

/** A lot of kits that hold pieces of this element from that lot, as its owner states it now. */
export type Holding = {
  readonly owner: string;
  readonly kitLot: string;
  readonly element: string;
  readonly lot: string;
};

/**
 * The lots of kits that hold pieces of these lots (MAKER/NUMBER), as far as the transaction may see. From facts, not from
 * stock, which is for its owner alone; few lots are stated beside all else, and fewer have components.
 */
export async function kitLotsHolding(tx: Tx, lots: readonly string[]): Promise<Holding[]> {
  if (lots.length === 0) return [];
  const { rows } = await tx.query<Holding>({
    name: 'kit-lots-holding',
    text: `
      with stated as (
        select distinct on (owner, maker, statement::jsonb #>> '{lot,number}')
          owner, maker || '/' || (statement::jsonb #>> '{lot,number}') as kit_lot, statement
        from facts where kind = 'lot'
        order by owner, maker, statement::jsonb #>> '{lot,number}', (judgement::jsonb ->> 'version')::int desc)
      select stated.owner, stated.kit_lot as "kitLot", part ->> 'element' as element,
        (part #>> '{lot,maker}') || '/' || btrim(part #>> '{lot,number}') as lot
      from stated, jsonb_array_elements(stated.statement::jsonb -> 'components') as part
      where (part #>> '{lot,maker}') || '/' || btrim(part #>> '{lot,number}') = any ($1::text[])
      order by stated.owner, stated.kit_lot`,
    values: [lots],
  });
  return rows;
}
