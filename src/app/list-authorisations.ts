/** The authorisations of a distributor's people that run out, by days left. */
import { runningOut } from '../core/people/running-out.ts';
import { readClock } from '../store/sql/lock-heads.ts';
import { listAuthorisations as listRows } from '../store/sql/read-leave.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { authorisationOf } from './derived/leave-rows.ts';
import { ownerAlone } from './list-own.ts';
import { type PageAsked, pageOf } from './page.ts';
import { readingContext } from './read-unit.ts';

export type RunningOutAsked = {
  /** Days. */
  readonly within: number;
  /** Also those that have run out already. */
  readonly expired: boolean;
  /** An instant; null: now. */
  readonly at: string | null;
};

export async function listAuthorisations(
  app: App,
  asker: Asker,
  { within, expired, at }: RunningOutAsked,
  page: PageAsked,
) {
  const owner = ownerAlone(asker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const all = (await listRows(tx)).map((row) => ({ ...row, ...authorisationOf(row) }));
    const listed = pageOf(runningOut(all, at ?? (await readClock(tx)), { within, expired }), page, (one) => one.id);
    const ids = listed.items.map((one) => one.person);
    const people = await app.models.person.findMany({ where: { owner, id: { in: ids } } });
    const items = listed.items.map(({ id, person, tasks, scope, from, until, daysLeft }) => {
      const { ownId, name } = people.find((one) => one.id === person) ?? { ownId: person, name: null };
      return { authorisation: id, technician: ownId, name, tasks, ...scope, from, until, daysLeft };
    });
    return { items, pageInfo: listed.pageInfo };
  });
}
