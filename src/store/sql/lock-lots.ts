import type { Tx } from '../transaction.ts';

export type LotOf = { readonly owner: string; readonly lot: string };

/**
 * Locks these lots, always in the order of owner and key, and after the heads of units: whoever holds a lot reads all
 * that was drawn from it, and nobody draws meanwhile.
 */
export async function lockLots(tx: Tx, lots: readonly LotOf[]): Promise<void> {
  if (lots.length === 0) return;
  await tx.query({
    name: 'lock-lots',
    text: `
      select from stock_items
      where kind = 'lot' and (owner, key) in (select * from unnest($1::uuid[], $2::text[]))
      order by owner, key for no key update`,
    values: [lots.map((one) => one.owner), lots.map((one) => one.lot)],
  });
}
