import type { Tx } from '../transaction.ts';
import { shopStated } from './shop-stated.ts';

export type ShopOfFact = {
  readonly owner: string;
  readonly fact: string;
  /** By slug. */
  readonly distributor: string;
  readonly shop: string | null;
};

/** Where these records were made, as far as the transaction may see. */
export async function shopsOfFacts(tx: Tx, facts: readonly string[]): Promise<ShopOfFact[]> {
  if (facts.length === 0) return [];
  const { rows } = await tx.query<ShopOfFact>({
    name: 'shops-of-facts',
    text: `
      select facts.owner, facts.id as fact, slug as distributor, ${shopStated} as shop
      from facts join organisations on organisations.id = facts.owner
      where facts.id = any ($1::uuid[])`,
    values: [facts],
  });
  return rows;
}
