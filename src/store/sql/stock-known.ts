import type { Tx } from '../transaction.ts';
import type { StockRow } from './read-stock.ts';

/**
 * The versions of these items that were in force as it was known at a time; what had not been stated by then is left out.
 * From the facts: the table of items has the last version alone. Facts of one kind of an owner are few beside all.
 */
export async function stockKnown(
  tx: Tx,
  sought: readonly Pick<StockRow, 'owner' | 'kind' | 'key'>[],
  known: string,
): Promise<StockRow[]> {
  if (sought.length === 0) return [];
  const { rows } = await tx.query<StockRow>({
    name: 'stock-known',
    text: `
      select distinct on (named.owner, named.kind, named.key) named.owner, named.kind, named.key, facts.id as fact,
        (facts.judgement::jsonb ->> 'version')::int as version, '' as fingerprint,
        (facts.statement::jsonb - named.kind)::text as statement
      from unnest($1::uuid[], $2::text[], $3::text[]) as named (owner, kind, key)
      join facts on facts.owner = named.owner and facts.kind = named.kind and facts.recorded_at <= $4::timestamptz
        and named.key = case named.kind
          when 'lot' then (facts.statement::jsonb #>> '{lot,maker}') || '/' || (facts.statement::jsonb #>> '{lot,number}')
          else facts.statement::jsonb ->> named.kind end
      order by named.owner, named.kind, named.key, facts.recorded_at desc, facts.id desc`,
    values: [sought.map((one) => one.owner), sought.map((one) => one.kind), sought.map((one) => one.key), known],
  });
  return rows;
}
