/** A published edition with its digest. */
import type { Edition } from '../core/catalogue/edition.ts';
import { Problem } from '../errors.ts';
import { listEditions, readEditionContent } from '../store/sql/read-editions.ts';
import { withTransaction } from '../store/transaction.ts';
import type { App } from './context.ts';

export async function readEdition(app: App, maker: string, edition: string) {
  return await withTransaction(app.pools.reading, { role: 'reader', orgs: [], readOnly: true }, async (tx) => {
    const listed = (await listEditions(tx, [maker])).find((one) => one.edition === edition);
    const content = await readEditionContent(tx, maker, edition);
    if (listed === undefined || content === null)
      throw new Problem('not-found', `${maker} has published no edition ${edition}.`);
    return { digest: listed.digest, content: JSON.parse(content) as unknown };
  });
}

/** An edition that something else names, for its words. */
export async function editionNamed(app: App, maker: string, edition: string): Promise<Edition> {
  const found = await withTransaction(app.pools.reading, { role: 'reader', orgs: [], readOnly: true }, (tx) =>
    app.editions.get(tx, maker, edition),
  );
  if (found === null) throw new Error(`edition ${edition} of ${maker} is named and not there`);
  return found;
}
