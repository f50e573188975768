import type { Tx } from '../transaction.ts';

/**
 * Whether a distributor has stated this lot, as far as the transaction may see. A record names no lot that its owner
 * hasn't stated, so one that is in any record is found here too. It is asked of lots that are in no unit, and so
 * seldom; facts of one kind are few beside all, and an index for this alone would be written with every fact.
 */
export async function isLotStated(tx: Tx, maker: string, number: string): Promise<boolean> {
  const { rows } = await tx.query<{ stated: boolean }>({
    name: 'is-lot-stated',
    text: `
      select exists (
        select from facts
        where kind = 'lot' and maker = $1 and statement::jsonb #>> '{lot,number}' = $2
      ) as stated`,
    values: [maker, number],
  });
  return rows[0]?.stated === true;
}
