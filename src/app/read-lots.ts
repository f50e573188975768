/**
 * What lots are of, and where their parts went; several at once, for askers whose scopes were looked at. To a distributor
 * a lot is known that it has stated; to the maker's people one of their make that anybody has.
 */
import { type LotName, lotKey } from '../core/records/lot-name.ts';
import { readLotStatements } from '../store/sql/read-lot-statements.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { type LotUse, lotUses } from './lot-uses.ts';
import { readingContext } from './read-unit.ts';

export type { LotUse };
export type LotView = LotName & {
  /** What it is said to be a lot of: one part, unless distributors say otherwise of each other. */
  readonly parts: readonly string[];
};

/** Null for a lot that is not known to the asker. */
export async function readLots(app: App, asker: Asker, lots: readonly LotName[]): Promise<(LotView | null)[]> {
  const stated = await withTransaction(app.pools.reading, readingContext(asker), (tx) => readLotStatements(tx, lots));
  const byLot = Map.groupBy(stated, (one) => lotKey(one.maker, one.number));
  return lots.map(({ maker, number }) => {
    const said = byLot.get(lotKey(maker, number));
    return said === undefined ? null : { maker, number, parts: [...new Set(said.map(({ part }) => part))].sort() };
  });
}

/** In the order in which it was recorded, as far as the asker may see. */
export async function readLotUses(app: App, asker: Asker, lots: readonly LotName[]): Promise<LotUse[][]> {
  return await withTransaction(app.pools.reading, readingContext(asker), (tx) => lotUses(tx, lots));
}
