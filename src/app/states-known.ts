/** States of units as they were known at a time. For what is shown beside records that the asker may see. */
import { asAt } from '../core/history/concession.ts';
import { eventsAt, fold, type UnitState } from '../core/history/fold.ts';
import { readEvents } from '../store/sql/read-events.ts';
import { withTransaction } from '../store/transaction.ts';
import type { App } from './context.ts';

export async function statesKnown(app: App, units: readonly string[], known: string): Promise<UnitState[]> {
  const context = { role: 'recorder' as const, orgs: [], readOnly: true };
  const events = await withTransaction(app.pools.reading, context, (tx) => readEvents(tx, [...new Set(units)]));
  return [...Map.groupBy(events, ({ unit }) => unit)].map(([unit, all]) =>
    asAt(fold(unit, eventsAt(all, known, known)), known),
  );
}
