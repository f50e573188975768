/**
 * The access journal: what the maker's people were shown of a distributor's records, for that distributor to see.
 * Whatever row with an owner the database gives to work under the role of the analyst is noted, and written before the
 * answer goes out: what can't be journalled isn't shown. Who of the maker's people it was is kept and not theirs to know.
 */
import { Problem } from '../errors.ts';
import { insertAccesses, isAccess, listAccesses } from '../store/sql/accesses.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker, Shown } from './asker.ts';
import type { App } from './context.ts';
import { asOwner, ownerAlone } from './list-own.ts';
import { isUuid } from './list-records.ts';
import { cut, type PageAsked, unknownCursor } from './page.ts';
import { patiently } from './patiently.ts';

export function noteShown(shown: Shown, row: Readonly<Record<string, unknown>>): void {
  const { owner, fact = row['record'] ?? row['id'] } = row;
  if (typeof owner !== 'string') return;
  const facts = shown.get(owner) ?? new Set();
  if (typeof fact === 'string' && isUuid(fact)) facts.add(fact);
  shown.set(owner, facts);
}

/** Once for each distributor; what was noted is then forgotten, so that a stream journals each of its pages. */
export async function journalAccess(
  app: App,
  asker: Asker,
  operation: string,
  tried: (work: () => Promise<void>) => Promise<void> = (work) => work(),
): Promise<void> {
  const { maker, client, subject, organisations, shown } = asker;
  const theirs = [...shown].filter(([owner]) => owner !== organisations.maker);
  shown.clear();
  if (maker === null || theirs.length === 0) return;
  const rows = theirs.map(([owner, facts]) => ({
    ...{ owner, id: app.effects.newId(), maker, client, subject, operation, facts: [...facts].sort() },
  }));
  const orgs = rows.map((row) => row.owner);
  await tried(() => withTransaction(app.pools.reading, { role: 'recorder', orgs }, (tx) => insertAccesses(tx, rows)));
}

/** Of an answer that is streamed: each page before it goes out. */
export async function* journalEach<Page>(
  app: App,
  asker: Asker,
  operation: string,
  pages: AsyncIterable<Page>,
): AsyncGenerator<Page, void, undefined> {
  for await (const page of pages) {
    await journalAccess(app, asker, operation, patiently);
    yield page;
  }
}

/** The latest first. */
export async function readJournal(
  app: App,
  asker: Asker,
  { from, to }: { readonly from: string | null; readonly to: string | null },
  { first, after }: PageAsked,
) {
  const owner = ownerAlone(asker);
  if (!asker.scopes.has('record:read')) throw new Problem('forbidden', 'The token lacks the scope record:read.');
  if (after !== null && !isUuid(after)) throw unknownCursor();
  const rows = await asOwner(app, asker, async (tx) => {
    if (after !== null && !(await isAccess(tx, owner, after))) throw unknownCursor();
    return await listAccesses(tx, { owner, from, to }, after, first + 1);
  });
  return cut(rows, first, (row) => row.id);
}
