/** Records by what they say and how they stand, page by page; for askers whose scopes were looked at. */
import { z } from 'zod';
import { listRecords as listIds, type RecordsSought } from '../store/sql/list-records.ts';
import { readFacts } from '../store/sql/read-facts.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { cut, type Page, type PageAsked, unknownCursor } from './page.ts';
import { isAnalyst, readingContext } from './read-unit.ts';

export type RecordsAsked = Omit<RecordsSought, 'owner'>;

/** Ids of records, in the order in which they were recorded, or against it. */
export async function listRecords(
  app: App,
  asker: Asker,
  sought: RecordsAsked,
  { first, after, order }: PageAsked & { readonly order: 'oldest' | 'newest' },
): Promise<Page<string>> {
  if (after !== null && !isUuid(after)) throw unknownCursor();
  const ids = await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    if (after !== null && (await readFacts(tx, [after])).length === 0) throw unknownCursor();
    return await listIds(tx, { ...sought, owner: ownerOf(asker) }, { order, after, most: first + 1 });
  });
  return cut(ids, first, (id) => id);
}

/** A distributor's own; null: all that the maker's people may see. */
export function ownerOf(asker: Asker): string | null {
  return isAnalyst(asker) ? null : asker.organisations.distributor;
}

export const isUuid = (text: string) => z.guid().safeParse(text).success;
