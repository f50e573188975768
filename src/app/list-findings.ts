/** What holds units or is due on them, page by page; for askers whose scopes were looked at. */
import { type FindingPlace, listStandingFindings, type StandingRow } from '../store/sql/list-standing-findings.ts';
import { readFacts } from '../store/sql/read-facts.ts';
import type { FindingsSought } from '../store/sql/standing-findings.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import { makersThatContain } from './containing/contain.ts';
import type { App } from './context.ts';
import { isUuid, ownerOf } from './list-records.ts';
import { cut, type Page, type PageAsked, unknownCursor } from './page.ts';
import { readingContext } from './read-unit.ts';
import { concessionRecords, type FindingView, viewsOfFindings } from './view-findings.ts';

export type StandingView = Omit<StandingRow, 'finding'> & { readonly finding: FindingView };

/** Whose findings are sought follows from who asks. */
export type StandingSought = Omit<FindingsSought, 'owner' | 'containing'>;
export type Whose = Pick<FindingsSought, 'owner' | 'containing'>;

/** A distributor is also told what its maker's containments hold of the units that it has recorded something of. */
export async function readingFindings<T>(
  app: App,
  asker: Asker,
  work: (tx: Tx, whose: Whose) => Promise<T>,
): Promise<T> {
  const owner = ownerOf(asker);
  const containing = owner === null ? [] : await makersThatContain(app);
  const context = readingContext(asker);
  return await withTransaction(app.pools.reading, { ...context, orgs: [...context.orgs, ...containing] }, (tx) =>
    work(tx, { owner, containing }),
  );
}

/** What holds units, or is due, of the asker's records; those of the oldest record first. */
export async function listFindings(
  app: App,
  asker: Asker,
  sought: StandingSought,
  { first, after }: PageAsked,
): Promise<Page<StandingView>> {
  const place = after === null ? null : placeIn(after);
  return await readingFindings(app, asker, async (tx, whose) => {
    const rows = await listStandingFindings(tx, { ...sought, ...whose }, place, first + 1);
    const open = rows.map(({ finding }) => finding);
    const views = viewsOfFindings(open, await readFacts(tx, [...new Set(concessionRecords(open))]));
    const viewed = rows.map((row, at) => ({ ...row, finding: views[at] as FindingView }));
    return cut(viewed, first, cursorOf);
  });
}

/** A finding that was the last of a page may be cleared before the next is asked for: the place counts, not what stood there. */
export function cursorOf({ fact, unit, digest }: FindingPlace): string {
  return `${fact}.${unit}.${digest}`;
}

function placeIn(cursor: string): FindingPlace {
  const [fact = '', unit = '', digest = '', ...more] = cursor.split('.');
  if (!isUuid(fact) || !isUuid(unit) || !/^[0-9a-f]{32}$/.test(digest) || more.length > 0) throw unknownCursor();
  return { fact, unit, digest };
}
