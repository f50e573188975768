/** Terms of a maker, every version: for its people, and for every distributor, who must know what counts. */
import { Problem } from '../errors.ts';
import { readTerms as readRows } from '../store/sql/read-warranty.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { readingContext, requireOwnMake } from './read-unit.ts';

export async function readTerms(app: App, asker: Asker, maker: string, terms: string) {
  requireOwnMake(asker, maker);
  const rows = await withTransaction(app.pools.reading, readingContext(asker), (tx) => readRows(tx, [maker]));
  const versions = rows.filter((one) => one.id === terms);
  if (versions.length === 0) throw new Problem('not-found', `No terms of ${maker} are known as ${terms}.`);
  return {
    ...{ maker, terms },
    versions: versions.map(({ version, fact, validFrom, validUntil, recordedAt, content }) => ({
      ...{ version, record: fact, validFrom, validUntil, recordedAt },
      ...(JSON.parse(content) as { text?: string; parts: object }),
    })),
  };
}
