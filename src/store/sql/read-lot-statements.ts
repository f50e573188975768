import type { Tx } from '../transaction.ts';

export type LotStatement = {
  readonly owner: string;
  readonly maker: string;
  readonly number: string;
  readonly part: string;
};

/**
 * What distributors say now that these lots are of, as far as the transaction may see. From facts, not from stock, which
 * is for its owner alone. Facts of one kind are few beside all: see is-lot-stated.ts.
 */
export async function readLotStatements(
  tx: Tx,
  lots: readonly { readonly maker: string; readonly number: string }[],
): Promise<LotStatement[]> {
  const { rows } = await tx.query<LotStatement>({
    name: 'read-lot-statements',
    text: `
      select distinct on (maker, number, owner) owner, maker, number, part
      from (
        select owner, id, maker, statement::jsonb #>> '{lot,number}' as number, statement::jsonb ->> 'part' as part
        from facts where kind = 'lot' and maker = any ($1::text[])
      ) as stated
      where (maker, number) in (select * from unnest($1::text[], $2::text[]))
      order by maker, number, owner, id desc`,
    values: [lots.map((one) => one.maker), lots.map((one) => one.number)],
  });
  return rows;
}
