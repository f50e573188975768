import type { Tx } from '../transaction.ts';

export type PartUse = {
  readonly fact: string;
  readonly line: number;
  readonly unit: string;
  readonly role: 'element' | 'seal';
  readonly place: string;
  readonly item: string;
  readonly quantity: number;
};

/**
 * Where parts of a lot went, in the order in which it was recorded; as far as the transaction may see. What a
 * correction has replaced went nowhere.
 */
export async function usesOfLot(tx: Tx, maker: string, number: string): Promise<PartUse[]> {
  const { rows } = await tx.query<PartUse>({
    name: 'uses-of-lot',
    text: `
      select fact, line, unit_id as unit, role, place, item, quantity
      from part_uses as part_use
      where lot_maker = $1 and lot_number = $2
        and not exists (
          select from facts
          where facts.owner = part_use.owner and facts.concerns = part_use.fact and facts.kind = 'correction')
      order by fact, line`,
    values: [maker, number],
  });
  return rows;
}
