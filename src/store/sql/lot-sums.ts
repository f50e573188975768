/** What was used of lots, summed up by shop and item: a row an item, however many records took from a lot. */
import type { Tx } from '../transaction.ts';
import { columnsOf, type LotOf } from './lot-ledgers.ts';
import { stillCounts } from './still-counts.ts';

export type SumOfLot = LotOf & { readonly shop: string; readonly item: string; readonly quantity: number };

/**
 * What now counts as used. Summing the lines of a lot itself touched 1,010 rows of three lots with 300 units, and more with
 * each record; this touches those that it gives.
 */
export async function sumUses(tx: Tx, lots: readonly LotOf[]): Promise<SumOfLot[]> {
  if (lots.length === 0) return [];
  const { rows } = await tx.query<SumOfLot>({
    name: 'sum-uses-of-lots',
    text: `
      select owner, lot_maker || '/' || lot_number as lot, shop, item, quantity
      from lot_sums
      where (owner, lot_maker, lot_number) in (select * from unnest($1::uuid[], $2::text[], $3::text[])) and quantity > 0`,
    values: columnsOf(lots),
  });
  return rows;
}

/** Once these facts and their uses are inserted, in a transaction that holds their lots and those of what they correct. */
export async function addToSums(
  tx: Tx,
  facts: readonly { readonly owner: string; readonly fact: string }[],
): Promise<void> {
  if (facts.length === 0) return;
  await tx.query({
    name: 'add-to-sums-of-lots',
    text: `
      with recorded as (select owner, fact from unnest($1::uuid[], $2::uuid[]) as recorded (owner, fact)),
      replaced as (
        select distinct owner, facts.concerns as fact
        from facts join recorded using (owner)
        where facts.id = recorded.fact and facts.kind = 'correction' and not exists (
          select from facts as earlier
          where earlier.owner = facts.owner and earlier.concerns = facts.concerns and earlier.kind = 'correction'
            and earlier.id <> all ($2::uuid[]))),
      changed as (
        select part_uses.*, 1 as sign from part_uses join recorded using (owner, fact)
        union all
        select part_uses.*, -1 from part_uses join replaced using (owner, fact))
      insert into lot_sums as sums (owner, lot_maker, lot_number, shop, item, quantity)
      select owner, lot_maker, lot_number, shop, item, sum(sign * quantity)::int
      from changed
      where lot_number is not null and shop is not null
      group by owner, lot_maker, lot_number, shop, item
      order by owner, lot_maker, lot_number, shop, item
      on conflict (owner, lot_maker, lot_number, shop, item) do update set quantity = sums.quantity + excluded.quantity`,
    values: [facts.map(({ owner }) => owner), facts.map(({ fact }) => fact)],
  });
}

/** The rows as they follow from a table of uses. What was ever used keeps its row. */
export const sumsOf = (uses: string) => `
  select owner, lot_maker, lot_number, shop, item, sum(case when ${stillCounts} then quantity else 0 end)::int as quantity
  from ${uses} as part_use
  where lot_number is not null and shop is not null
  group by owner, lot_maker, lot_number, shop, item`;
