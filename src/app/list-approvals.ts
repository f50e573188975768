/** The shops that a maker has approved, as its people see them all and each distributor its own. */
import { stateAt } from '../core/people/leave.ts';
import { readClock } from '../store/sql/lock-heads.ts';
import { listApprovals as listRows } from '../store/sql/read-leave.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { approvalOf } from './derived/leave-rows.ts';
import { isUuid } from './list-records.ts';
import { cut, type PageAsked, unknownCursor } from './page.ts';
import { readingContext } from './read-unit.ts';

/** @param at an instant; null: now */
export async function listApprovals(app: App, asker: Asker, at: string | null, { first, after }: PageAsked) {
  if (after !== null && !isUuid(after)) throw unknownCursor();
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    if (after !== null && (await app.models.approval.count({ where: { fact: after } })) === 0) throw unknownCursor();
    const asked = at ?? (await readClock(tx));
    const items = (await listRows(tx, after, first + 1)).map((row) => {
      const { id, maker, distributor, shop, reason, withdrawnFrom, withdrawnBecause } = row;
      const { series } = approvalOf(row).scope;
      return {
        ...{ approval: id, maker, distributor, shop, ...(series && { series }), from: row.from, until: row.until },
        ...{ state: stateAt(row, withdrawnFrom, asked), reason },
        withdrawn: withdrawnFrom === null ? null : { from: withdrawnFrom, reason: withdrawnBecause ?? '' },
      };
    });
    return cut(items, first, (item) => item.approval);
  });
}
