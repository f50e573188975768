/** Where parts of lots went: those used from the lot itself, and those that came in a kit whose pieces are from it. */
import { kitLotsHolding } from '../store/sql/kit-lots-holding.ts';
import { type PartUse, usesOfLots } from '../store/sql/uses-of-lots.ts';
import type { Tx } from '../store/transaction.ts';
import type { LotName } from './require-lot.ts';

export type LotUse = PartUse & {
  /** The lot of kits that the piece came in; null: it was used from the lot itself. */
  readonly through: LotName | null;
};

/** By lot, in the order of `lots`; each in the order in which it was recorded, as far as the transaction may see. */
export async function lotUses(tx: Tx, lots: readonly LotName[]): Promise<LotUse[][]> {
  const holdings = await kitLotsHolding(tx, lots.map(keyOf));
  const kits = [...new Set(holdings.map((one) => one.kitLot))].map(named);
  const uses = Map.groupBy(await usesOfLots(tx, [...lots, ...kits]), usedFrom);
  return lots.map((lot) => {
    const own = (uses.get(keyOf(lot)) ?? []).map((use) => ({ ...use, through: null }));
    const through = holdings
      .filter((one) => one.lot === keyOf(lot))
      .flatMap(({ owner, kitLot, element }) =>
        (uses.get(kitLot) ?? [])
          .filter((use) => use.owner === owner && use.item === element)
          .map((use) => ({ ...use, through: named(kitLot) })),
      );
    return [...own, ...through].sort((a, b) => (a.fact === b.fact ? a.line - b.line : a.fact < b.fact ? -1 : 1));
  });
}

function usedFrom({ lotMaker, lotNumber }: PartUse): string {
  return keyOf({ maker: lotMaker, number: lotNumber });
}

/** No slug holds a slash, so no two lots have one key. */
function keyOf({ maker, number }: LotName): string {
  return `${maker}/${number}`;
}

function named(key: string): LotName {
  const slash = key.indexOf('/');
  return { maker: key.slice(0, slash), number: key.slice(slash + 1) };
}
