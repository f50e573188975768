import type { Tx } from '../transaction.ts';
import { stillCounts } from './still-counts.ts';

export type PartUse = {
  readonly owner: string;
  readonly lotMaker: string;
  readonly lotNumber: string;
  readonly fact: string;
  readonly line: number;
  readonly unit: string;
  readonly role: 'element' | 'seal';
  readonly place: string;
  readonly item: string;
  readonly quantity: number;
};

/**
 * Where parts of these lots went, in the order in which it was recorded; as far as the transaction may see. What a
 * correction has replaced went nowhere.
 */
export async function usesOfLots(
  tx: Tx,
  lots: readonly { readonly maker: string; readonly number: string }[],
): Promise<PartUse[]> {
  const { rows } = await tx.query<PartUse>({
    name: 'uses-of-lots',
    text: `
      select owner, lot_maker as "lotMaker", lot_number as "lotNumber", fact, line, unit_id as unit, role, place, item, quantity
      from part_uses as part_use
      where (lot_maker, lot_number) in (select * from unnest($1::text[], $2::text[]))
        and ${stillCounts}
      order by fact, line`,
    values: [lots.map((one) => one.maker), lots.map((one) => one.number)],
  });
  return rows;
}
