/** Forward from a lot: every unit that parts of it went into, by themselves or in a kit, and whether they are still in. */

import type { UnitState } from '../core/history/fold.ts';
import { type LotName, lotKey } from '../core/records/lot-name.ts';
import { namesOfUnits } from '../store/sql/find-units.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import type { PartUse } from '../store/sql/uses-of-lots.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { lotUses } from './lot-uses.ts';
import { type PageAsked, pageOf } from './page.ts';
import { nameOf, readingContext, requireReading } from './read-unit.ts';
import { requireLot } from './require-lot.ts';

export async function reachLot(app: App, asker: Asker, lot: LotName, page: PageAsked) {
  requireReading(asker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const [uses = []] = await lotUses(tx, [lot]);
    if (uses.length === 0) await requireLot(tx, asker, lot);
    const states = await readCurrent(tx, [...new Set(uses.map((use) => use.unit))]);
    const partners = await readCurrent(tx, [...new Set(states.flatMap((state) => state.mounted?.with ?? []))]);
    const names = await namesOfUnits(
      tx,
      [...states, ...partners].map((state) => state.unit),
    );
    const items = uses.map((use) => {
      const state = states.find((one) => one.unit === use.unit);
      const under = state?.mounted ?? null;
      return {
        unit: use.unit,
        kind: state?.born?.kind ?? null,
        name: nameOf(names, use.unit),
        place: use.place,
        role: use.role,
        item: use.item,
        quantity: use.quantity,
        record: use.fact,
        through: use.through === null ? null : lotKey(use.through.maker, use.through.number),
        still: stillIn(use, state?.stations),
        status: state?.status ?? null,
        mounted: under === null ? null : { unit: under.with, name: nameOf(names, under.with) },
        cursor: `${use.fact}.${use.line}`,
      };
    });
    return pageOf(items, page, (item) => item.cursor);
  });
}

/**
 * A part is in while its station holds what the same record put there, and out once the station holds none of its
 * kind. In between nobody said which piece is which: one of several may have been changed, or another of its kind put
 * in. Of a seal only its going in is recorded.
 */
export function stillIn(use: PartUse, stations: UnitState['stations'] | undefined): 'in' | 'out' | 'unknown' {
  const content = stations?.[use.place];
  if (use.role === 'seal' || content === undefined || content.elements === null) return 'unknown';
  if (content.record === use.fact) return 'in';
  return content.elements.some((held) => held.element === use.item) ? 'unknown' : 'out';
}
