import type { Tx } from '../transaction.ts';

/** The lots (MAKER/NUMBER) of which anything came into this shop or was used there, in the order of their names. */
export async function listLotsAt(
  tx: Tx,
  owner: string,
  shop: string,
  after: string | null,
  most: number,
): Promise<string[]> {
  const { rows } = await tx.query<{ lot: string }>({
    name: 'list-lots-at',
    text: `
      select lot from (
        select lot_maker || '/' || lot_number as lot from intakes
        where owner = $1::uuid and shop = $2 and lot_number is not null
        union
        select lot_maker || '/' || lot_number from part_uses
        where owner = $1::uuid and shop = $2 and lot_number is not null) as there
      where $3::text is null or lot collate "C" > $3 collate "C"
      order by lot collate "C" limit $4`,
    values: [owner, shop, after, most],
  });
  return rows.map((row) => row.lot);
}
