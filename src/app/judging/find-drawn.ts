/** The records that took something from a lot and are to be judged again. */

import { lotNamed } from '../../core/records/lot-name.ts';
import { drawnAs } from '../../core/stock/contents.ts';
import { balanceOf, overdrawnBy } from '../../core/stock/ledger.ts';
import { kitLotsHolding } from '../../store/sql/kit-lots-holding.ts';
import type { LotOf } from '../../store/sql/lot-ledgers.ts';
import { readMoves, readUses } from '../../store/sql/lot-ledgers.ts';
import { readStock } from '../../store/sql/read-stock.ts';
import { judgedUses } from '../../store/sql/records-of-lot.ts';
import type { Tx } from '../../store/transaction.ts';
import type { Editions } from '../editions.ts';
import { contentsOfLot } from '../recording/ledgers.ts';
import { editionsOf, stating } from '../recording/load-lots.ts';

/**
 * Those that are held for what they took and shouldn't be any more, and those that should be and aren't yet; in the order
 * of work. With all that is known now: whoever asks last is right.
 */
export async function findDrawn(tx: Tx, editions: Editions, lot: LotOf): Promise<readonly string[]> {
  const [row] = await readStock(tx, [{ owner: lot.owner, kind: 'lot', key: lot.lot }]);
  if (row === undefined) return [];
  const known = await editionsOf(tx, editions, [lotNamed(lot.lot).maker]);
  const contents = contentsOfLot(lot.lot, stating(row).body, (maker) => known.get(maker) ?? []);
  const ledger = { contents, moves: await readMoves(tx, [lot]), uses: await readUses(tx, [lot]) };
  const shops = [...new Set(ledger.uses.map((use) => use.shop))];
  const isKnown = new Map(shops.map((shop) => [shop, balanceOf(ledger, shop) !== null]));
  const over = new Map(shops.flatMap((shop) => [...overdrawnBy(ledger, shop)]));
  const named = (items: readonly string[]) =>
    [...new Set(items.map((item) => drawnAs(contents, item)))].sort().join(' ');
  return (await judgedUses(tx, lot))
    .filter(({ fact, shop, overdrawn, missing }) => {
      const now = (over.get(fact) ?? []).map((one) => one.item);
      return named(overdrawn) !== named(now) || (missing && isKnown.get(shop) === true);
    })
    .map((one) => one.fact);
}

/** Every record that took something from this lot, or from one of kits that hold pieces of it; in the order of work. */
export async function findAllDrawn(tx: Tx, lot: LotOf): Promise<readonly string[]> {
  const holding = await kitLotsHolding(tx, [lot.lot]);
  const kits = holding.filter((one) => one.owner === lot.owner).map((one) => one.kitLot);
  const uses = await readUses(
    tx,
    [...new Set([lot.lot, ...kits])].map((one) => ({ owner: lot.owner, lot: one })),
  );
  return [...new Set(uses.map((use) => use.fact))];
}
