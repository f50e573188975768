/** States of units as they were known at a time. For what is shown beside records that the asker may see. */
import { asAt } from '../core/history/concession.ts';
import { eventsAt, fold, type UnitState } from '../core/history/fold.ts';
import { readEvents } from '../store/sql/read-events.ts';
import type { Tx } from '../store/transaction.ts';

export async function statesKnown(tx: Tx, units: readonly string[], known: string): Promise<UnitState[]> {
  const events = await readEvents(tx.as('recorder'), [...new Set(units)]);
  return [...Map.groupBy(events, ({ unit }) => unit)].map(([unit, all]) =>
    asAt(fold(unit, eventsAt(all, known, known)), known),
  );
}
