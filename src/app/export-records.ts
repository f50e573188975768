/** A distributor's own records, page by page, each read in a transaction of its own: an export holds nothing open. */
import { Problem } from '../errors.ts';
import { exportFacts, type FactsSought } from '../store/sql/export-facts.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { patiently } from './patiently.ts';
import { isAnalyst, readingContext } from './read-unit.ts';
import { type RecordView, viewsOf } from './record-views.ts';

/** Records that are read at once: some 1 MB. */
const pageSize = 200;

/**
 * In the order of ids. What is recorded while the export runs is in it or not; what was there before is in it once.
 * @throws Problem at once, before the first page is asked for
 */
export function exportRecords(
  app: App,
  asker: Asker,
  sought: Omit<FactsSought, 'owner'>,
): AsyncGenerator<RecordView[], void, undefined> {
  const owner = asker.organisations.distributor;
  if (isAnalyst(asker) || owner === null) throw new Problem('forbidden', 'The token must name its distributor.');
  return pages(app, asker, { ...sought, owner });
}

async function* pages(app: App, asker: Asker, sought: FactsSought): AsyncGenerator<RecordView[], void, undefined> {
  const context = readingContext(asker);
  let after: string | null = null;
  for (;;) {
    const cursor: string | null = after;
    const ids: string[] = await patiently(() =>
      withTransaction(app.pools.reading, context, (tx) => exportFacts(tx, sought, cursor, pageSize)),
    );
    if (ids.length > 0)
      yield await patiently(() => withTransaction(app.pools.reading, context, (tx) => viewsOf(tx, asker, ids)));
    if (ids.length < pageSize) return;
    after = ids.at(-1) ?? null;
  }
}
