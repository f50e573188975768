/** One record whole, as far as the asker may see it, with its status as it is now. */
import { Problem } from '../errors.ts';
import { unitsInFacts } from '../store/sql/read-current.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { settledFor } from './horizon.ts';
import { readingContext, requireReading } from './read-unit.ts';
import {
  nothingSeen,
  type RecordParts,
  type RecordView,
  type Seen,
  viewsAtHand,
  viewsOf,
  wholeRecord,
} from './record-views.ts';
import { statesKnown } from './states-known.ts';

export async function readRecord(app: App, asker: Asker, id: string): Promise<RecordView> {
  requireReading(asker);
  const [record] = await readRecords(app, asker, [id]);
  return requireFound(record, id);
}

/** With what had been said of it at a time: corrections, later judgements, and what was open then. */
export async function readRecordKnown(app: App, asker: Asker, id: string, asked: string) {
  requireReading(asker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const until = settledFor(asked, await tx.began);
    const known = until.known ?? asked;
    const touched = await unitsInFacts(tx, [id], known);
    const states = await statesKnown(
      tx,
      touched.map(({ unit }) => unit),
      known,
    );
    const [record] = await viewsOf(tx, asker, [id], nothingSeen(), { known, states });
    return { ...requireFound(record, id), ...until };
  });
}

function requireFound(record: RecordView | null | undefined, id: string): RecordView {
  if (record === undefined || record === null) throw new Problem('not-found', `There is no record ${id}.`);
  return record;
}

/** Several at once, for askers whose scopes were looked at; null for what is not there, or not theirs to see. */
export async function readRecords(
  app: App,
  asker: Asker,
  ids: readonly string[],
  seen: Seen = nothingSeen(),
  parts: RecordParts = wholeRecord,
): Promise<(RecordView | null)[]> {
  const views =
    viewsAtHand(asker, ids, seen, parts) ??
    (await withTransaction(app.pools.reading, readingContext(asker), (tx) =>
      viewsOf(tx, asker, ids, seen, null, parts),
    ));
  const byId = new Map(views.map((view) => [view.id, view]));
  return ids.map((id) => byId.get(id) ?? null);
}
