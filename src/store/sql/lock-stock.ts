import type { Tx } from '../transaction.ts';
import type { StockKind } from './read-stock.ts';

/**
 * Locks what was stated of these shops, instruments or lots; of what has no row nobody can record either.
 *
 * Always in one order, or two batches lock each other out: heads of units, lots, makers that publish, people, shops,
 * instruments; of one kind by owner and key. Of shops and instruments whoever states something locks them against
 * everybody (`update`), whoever judges by it against those alone (`share`): so nothing is judged by what ends meanwhile,
 * and what was judged before is found when it is judged again. Whoever holds a lot (`no key update`) reads all that was
 * drawn from it, and nobody draws meanwhile.
 */
export async function lockStock(
  tx: Tx,
  kind: Extract<StockKind, 'shop' | 'instrument' | 'lot'>,
  mode: 'share' | 'update' | 'no key update',
  items: readonly { readonly owner: string; readonly key: string }[],
): Promise<void> {
  if (items.length === 0) return;
  await tx.query({
    name: `lock-stock-for-${mode.replaceAll(' ', '-')}`,
    text: `
      select from stock_items
      where kind = $1 and (owner, key) in (select * from unnest($2::uuid[], $3::text[]))
      order by owner, key for ${mode}`,
    values: [kind, items.map((one) => one.owner), items.map((one) => one.key)],
  });
}
