/** Where parts of lots went: those used from the lot itself, and those that came in a kit whose pieces are from it. */
import { type LotName, lotKey, lotNamed } from '../core/records/lot-name.ts';
import { kitLotsHolding } from '../store/sql/kit-lots-holding.ts';
import { type PartUse, usesOfLots } from '../store/sql/uses-of-lots.ts';
import type { Tx } from '../store/transaction.ts';

export type LotUse = PartUse & {
  /** The lot of kits that the piece came in; null: it was used from the lot itself. */
  readonly through: LotName | null;
};

/** By lot, in the order of `lots`; each in the order in which it was recorded, as far as the transaction may see. */
export async function lotUses(tx: Tx, lots: readonly LotName[]): Promise<LotUse[][]> {
  const holdings = await kitLotsHolding(
    tx,
    lots.map(({ maker, number }) => lotKey(maker, number)),
  );
  const kits = [...new Set(holdings.map((one) => one.kitLot))].map(lotNamed);
  const uses = Map.groupBy(await usesOfLots(tx, [...lots, ...kits]), usedFrom);
  return lots.map(({ maker, number }) => {
    const key = lotKey(maker, number);
    const own = (uses.get(key) ?? []).map((use) => ({ ...use, through: null }));
    const through = holdings
      .filter((one) => one.lot === key)
      .flatMap(({ owner, kitLot, element }) =>
        (uses.get(kitLot) ?? [])
          .filter((use) => use.owner === owner && use.item === element)
          .map((use) => ({ ...use, through: lotNamed(kitLot) })),
      );
    return [...own, ...through].sort((a, b) => (a.fact === b.fact ? a.line - b.line : a.fact < b.fact ? -1 : 1));
  });
}

function usedFrom({ lotMaker, lotNumber }: PartUse): string {
  return lotKey(lotMaker, lotNumber);
}
