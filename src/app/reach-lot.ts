/** Forward from a lot: every unit that parts of it went into, and whether they are still in. */
import { Problem } from '../errors.ts';
import { namesOfUnits } from '../store/sql/find-units.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import { usesOfLot } from '../store/sql/uses-of-lot.ts';
import { withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { type PageAsked, pageOf } from './page.ts';
import { isAnalyst, nameOf, readingContext } from './read-unit.ts';

export async function reachLot(app: App, asker: Asker, lot: { maker: string; number: string }, page: PageAsked) {
  if (!asker.scopes.has(isAnalyst(asker) ? 'warranty:read' : 'record:read')) {
    throw new Problem('forbidden', 'The token lacks the scope record:read, or warranty:read for the maker.');
  }
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const uses = await usesOfLot(tx, lot.maker, lot.number);
    const states = await readCurrent(tx, [...new Set(uses.map((use) => use.unit))]);
    const partners = await readCurrent(tx, [...new Set(states.flatMap((state) => state.mounted?.with ?? []))]);
    const names = await namesOfUnits(
      tx,
      [...states, ...partners].map((state) => state.unit),
    );
    const items = uses.map((use) => {
      const state = states.find((one) => one.unit === use.unit);
      const under = state?.mounted ?? null;
      const station = state?.stations[use.place];
      // A seal is renewed whenever its joint is broken; what shows is that it went in.
      const isIn = use.role === 'seal' ? null : station?.since === use.fact;
      return {
        unit: use.unit,
        kind: state?.born?.kind ?? null,
        name: nameOf(names, use.unit),
        place: use.place,
        role: use.role,
        item: use.item,
        quantity: use.quantity,
        record: use.fact,
        still: isIn === null ? 'unknown' : isIn ? 'in' : 'out',
        status: state?.status ?? null,
        mounted: under === null ? null : { unit: under.with, name: nameOf(names, under.with) },
        cursor: `${use.fact}.${use.line}`,
      };
    });
    return pageOf(items, page, (item) => item.cursor);
  });
}
