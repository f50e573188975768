import type { Tx } from '../transaction.ts';

/**
 * Who gives or withdraws leave locks the person or shop that it is about against everybody (`update`), who judges by it
 * against those alone (`share`): so nothing is judged by leave that ends meanwhile, and what was judged before is found
 * when it is judged again. After the heads of units and the lots, people before shops, each in the order of owner and id.
 */
export async function lockPeople(
  tx: Tx,
  mode: 'share' | 'update',
  people: readonly { readonly owner: string; readonly id: string }[],
): Promise<void> {
  if (people.length === 0) return;
  await tx.query({
    name: `lock-people-for-${mode}`,
    text: `
      select from people where (owner, id) in (select * from unnest($1::uuid[], $2::uuid[]))
      order by owner, id for ${mode}`,
    values: [people.map((one) => one.owner), people.map((one) => one.id)],
  });
}

/** A shop that its distributor has not stated has no row, and nobody records in it either. */
export async function lockShops(
  tx: Tx,
  mode: 'share' | 'update',
  shops: readonly { readonly owner: string; readonly key: string }[],
): Promise<void> {
  if (shops.length === 0) return;
  await tx.query({
    name: `lock-shops-for-${mode}`,
    text: `
      select from stock_items
      where kind = 'shop' and (owner, key) in (select * from unnest($1::uuid[], $2::text[]))
      order by owner, key for ${mode}`,
    values: [shops.map((one) => one.owner), shops.map((one) => one.key)],
  });
}
