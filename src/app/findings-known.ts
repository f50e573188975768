/**
 * What stood open on a distributor's units as it was known at a time. A unit that nobody has recorded anything of since is as
 * it was; only the others are folded anew.
 */
import { eventsAt, fold } from '../core/history/fold.ts';
import { readEvents } from '../store/sql/read-events.ts';
import { readStart } from '../store/sql/read-start.ts';
import type { FindingsThen } from '../store/sql/standing-findings.ts';
import { unitsTouchedSince } from '../store/sql/units-touched-since.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { type Settled, settledFor } from './horizon.ts';
import { ownerAlone } from './list-own.ts';
import { readingContext } from './read-unit.ts';

/** Units whose events are at hand at once. */
const atOnce = 500;

export type KnownThen = { readonly until: Settled; readonly asKnown: FindingsThen };

/** In one transaction, with what there was then; null: as it is now. */
export async function asFindingsKnown<T>(
  app: App,
  asker: Asker,
  known: string | null,
  work: (tx: Tx, asked: KnownThen | null) => Promise<T>,
): Promise<T> {
  if (known === null) return await withTransaction(app.pools.reading, readingContext(asker), (tx) => work(tx, null));
  const owner = ownerAlone(asker);
  return await withTransaction(app.pools.reading, { role: 'recorder', orgs: [owner], readOnly: true }, async (tx) => {
    const until = settledFor(known, await readStart(tx));
    const now = until.known ?? known;
    return await work(tx, { until, asKnown: { now, touched: await foldedAt(tx, owner, now) } });
  });
}

/** Without the end of a concession looked at: as states are kept. */
async function foldedAt(tx: Tx, owner: string, known: string): Promise<FindingsThen['touched']> {
  const touched = await unitsTouchedSince(tx, owner, known);
  const found: FindingsThen['touched'][number][] = [];
  for (let from = 0; from < touched.length; from += atOnce) {
    const events = Map.groupBy(await readEvents(tx, touched.slice(from, from + atOnce)), ({ unit }) => unit);
    for (const [unit, all] of events) {
      const { status, open } = fold(unit, eventsAt(all, known, known));
      found.push({ unit, status, open });
    }
  }
  return found;
}
