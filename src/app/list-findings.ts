/** What holds units or is due on them, page by page; for askers whose scopes were looked at. */
import { type FindingPlace, listStandingFindings, type StandingRow } from '../store/sql/list-standing-findings.ts';
import { readFacts } from '../store/sql/read-facts.ts';
import type { FindingsSought } from '../store/sql/standing-findings.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { asFindingsKnown, type Whose } from './findings-known.ts';
import type { Settled } from './horizon.ts';
import { isUuid } from './list-records.ts';
import { cut, type Page, type PageAsked, unknownCursor } from './page.ts';
import { concessionRecords, type FindingView, viewsOfFindings } from './view-findings.ts';

/** Whose findings are sought, and as known when, follows from who asks, and how. */
export type StandingSought = Omit<FindingsSought, keyof Whose>;

export type StandingView = Omit<StandingRow, 'finding'> & { readonly finding: FindingView };

/**
 * What holds units, or is due, of the asker's records; those of the oldest record first.
 * @param known as it was known then, of a distributor alone; null: as it is now
 */
export async function listFindings(
  app: App,
  asker: Asker,
  sought: StandingSought,
  { first, after }: PageAsked,
  known: string | null = null,
): Promise<Page<StandingView> & Partial<Settled>> {
  const place = after === null ? null : placeIn(after);
  return await asFindingsKnown(app, asker, known, async (tx, whose, until) => {
    const rows = await listStandingFindings(tx, { ...sought, ...whose }, place, first + 1);
    const open = rows.map(({ finding }) => finding);
    const views = viewsOfFindings(open, await readFacts(tx, [...new Set(concessionRecords(open))]));
    const viewed = rows.map((row, at) => ({ ...row, finding: views[at] as FindingView }));
    return { ...cut(viewed, first, cursorOf), ...until };
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
