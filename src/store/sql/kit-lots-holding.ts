import type { Tx } from '../transaction.ts';

/** A lot of kits that hold pieces of this element from that lot, as its owner states it now. */
export type Holding = {
  readonly owner: string;
  readonly kitLot: string;
  readonly element: string;
  readonly lot: string;
};

const piece = `(part #>> '{lot,maker}') || '/' || btrim(part #>> '{lot,number}')`;
const kitLot = `stated.maker || '/' || stated.number`;

/**
 * From facts, not from stock, which is for its owner alone: an index finds the few statements that name components, and
 * each counts where its distributor hasn't stated the lot otherwise since. Reading every fact for the lots took 115 ms of
 * 37,000 facts.
 */
const holdings = `
  with holding as materialized (
    select owner, maker, statement::jsonb #>> '{lot,number}' as number, (judgement::jsonb ->> 'version')::int as version,
      statement::jsonb -> 'components' as components
    from facts
    where kind = 'lot' and strpos(statement, '"components":[{') > 0 and recorded_at <= $2::timestamptz)
  select stated.owner, ${kitLot} as "kitLot", part ->> 'element' as element, ${piece} as lot
  from holding as stated, jsonb_array_elements(stated.components) as part
  where not exists (
    select from facts as later
    where later.owner = stated.owner and later.kind = 'lot' and later.maker = stated.maker
      and later.statement::jsonb #>> '{lot,number}' = stated.number
      and (later.judgement::jsonb ->> 'version')::int > stated.version and later.recorded_at <= $2::timestamptz)`;

/** The lots of kits that hold pieces of these lots (MAKER/NUMBER), as far as the transaction may see; as stated at `known`. */
export async function kitLotsHolding(tx: Tx, lots: readonly string[], known: string | null = null): Promise<Holding[]> {
  if (lots.length === 0) return [];
  const { rows } = await tx.query<Holding>({
    name: 'kit-lots-holding',
    text: `${holdings} and ${piece} = any ($1::text[]) order by 1, 2`,
    values: [lots, known ?? 'infinity'],
  });
  return rows;
}

/** The lots that pieces in these lots of kits (MAKER/NUMBER) are from, as far as the transaction may see. */
export async function piecesOfKitLots(tx: Tx, kits: readonly string[]): Promise<Holding[]> {
  if (kits.length === 0) return [];
  const { rows } = await tx.query<Holding>({
    name: 'pieces-of-kit-lots',
    text: `${holdings} and ${kitLot} = any ($1::text[]) order by 1, 2`,
    values: [kits, 'infinity'],
  });
  return rows;
}
