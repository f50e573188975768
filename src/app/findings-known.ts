/**
 * What stood open on a distributor's units as it was known at a time. A unit that nobody has recorded anything of since is as
 * it was; only the others are folded anew.
 */
import { eventsAt, fold } from '../core/history/fold.ts';
import { readEvents } from '../store/sql/read-events.ts';
import type { FindingsSought, FindingsThen } from '../store/sql/standing-findings.ts';
import { unitsTouchedSince } from '../store/sql/units-touched-since.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import { makersThatContain } from './containing/contain.ts';
import type { App } from './context.ts';
import { type Settled, settledFor } from './horizon.ts';
import { ownerAlone } from './list-own.ts';
import { ownerOf } from './list-records.ts';
import { readingContext } from './read-unit.ts';

/** Units whose events are at hand at once. */
const atOnce = 500;

/** What follows from who asks, and for when. */
export type Whose = Pick<FindingsSought, 'owner' | 'containing' | 'asKnown'>;

/**
 * In one transaction, with what there was at `known`; null: as it is now. A distributor is also told what its maker's
 * containments hold of the units that it has recorded something of.
 */
export async function asFindingsKnown<T>(
  app: App,
  asker: Asker,
  known: string | null,
  work: (tx: Tx, whose: Whose, until: Settled | null) => Promise<T>,
): Promise<T> {
  const owner = ownerOf(asker);
  const containing = owner === null ? [] : await makersThatContain(app);
  if (known === null) {
    const context = readingContext(asker);
    const seeing = { ...context, orgs: [...context.orgs, ...containing] };
    return await withTransaction(app.pools.reading, seeing, (tx) => work(tx, { owner, containing }, null));
  }
  const own = ownerAlone(asker);
  const seeing = { role: 'recorder' as const, orgs: [own, ...containing], readOnly: true };
  return await withTransaction(app.pools.reading, seeing, async (tx) => {
    const until = settledFor(known, await tx.began);
    const now = until.known ?? known;
    const asKnown = { now, touched: await foldedAt(tx, own, now) };
    return await work(tx, { owner, containing, asKnown }, until);
  });
}

/** Without the end of a concession looked at: as states are kept. */
async function foldedAt(tx: Tx, owner: string, known: string): Promise<FindingsThen['touched']> {
  const touched = await unitsTouchedSince(tx, owner, known);
  const found: FindingsThen['touched'][number][] = [];
  for (let from = 0; from < touched.length; from += atOnce) {
    const events = Map.groupBy(await readEvents(tx, touched.slice(from, from + atOnce)), ({ unit }) => unit);
    for (const [unit, all] of events) {
      found.push({ unit, open: fold(unit, eventsAt(all, known, known)).open });
    }
  }
  return found;
}
