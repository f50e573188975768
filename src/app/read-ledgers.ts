/** The ledgers of lots as they stand now. */
import { lotNamed } from '../core/records/lot-name.ts';
import type { Ledger, Use } from '../core/stock/ledger.ts';
import { type LotOf, readMoves, readUses, type Until } from '../store/sql/lot-ledgers.ts';
import { sumUses } from '../store/sql/lot-sums.ts';
import type { StockRow } from '../store/sql/read-stock.ts';
import type { Tx } from '../store/transaction.ts';
import type { App } from './context.ts';
import { contentsOfLot } from './recording/ledgers.ts';
import { editionsOf, stating } from './recording/load-lots.ts';

/**
 * In the order of the rows, for balances: what was used is summed up, and known line by line only of lots that somebody
 * has counted, where it matters when it was, or where it is asked up to when.
 */
export async function readLedgers(
  app: App,
  tx: Tx,
  rows: readonly StockRow[],
  until: Until | null = null,
): Promise<Ledger[]> {
  const lots = rows.map(stating);
  const known = await editionsOf(
    tx,
    app.editions,
    lots.map(({ lot }) => lotNamed(lot).maker),
  );
  const moves = Map.groupBy(await readMoves(tx, lots, until), (one) => one.lot);
  const isCounted = ({ lot }: LotOf) => until !== null || moves.get(lot)?.some(({ what }) => what === 'count') === true;
  const lines = await readUses(tx, lots.filter(isCounted), until);
  const sums = await sumUses(
    tx,
    lots.filter((one) => !isCounted(one)),
  );
  const uses = Map.groupBy<string, Use & LotOf>(
    [...lines, ...sums.map((one) => ({ ...one, ...summedUp }))],
    (one) => one.lot,
  );
  return lots.map(({ lot, body }) => ({
    contents: contentsOfLot(lot, body, (maker) => known.get(maker) ?? []),
    moves: moves.get(lot) ?? [],
    uses: uses.get(lot) ?? [],
  }));
}

const summedUp = { fact: '', at: '', reference: '' };
