/** Work that stands before a movement which turned out otherwise: that a unit came in later may have said that it was there. */

import { effectiveEvents, effectiveOfEach, withReached } from '../../core/history/effective-events.ts';
import type { UnitEvent } from '../../core/history/event.ts';
import { endOf, orderEvents } from '../../core/history/order-events.ts';
import { readEvents, unitsOfFacts } from '../../store/sql/read-events.ts';
import { withTransaction } from '../../store/transaction.ts';
import type { App } from '../context.ts';
import { isJudged } from '../decisions/around-work.ts';
import { type Following, withOwners } from './find-following.ts';

/**
 * On every unit that one of these facts moved, or once did; in the order of work, each once. Most of them moved nothing.
 * @param changed facts that came, or are judged otherwise now, each with its cause
 */
export async function findBefore(app: App, changed: ReadonlyMap<string, string>): Promise<Following[]> {
  const nobodys = { role: 'recorder' as const, orgs: [], readOnly: true };
  const found = await withTransaction(app.pools.reading, nobodys, async (tx) => {
    const own = await unitsOfFacts(tx, [...changed.keys()]);
    const first = await readEvents(tx, [...new Set(own.map(({ unit }) => unit))]);
    const moved = movesOf(first, changed);
    if (moved.size === 0) return [];
    const again = first.filter(({ effect }) => moved.has(effect.judges ?? ''));
    const touched = [...own, ...(await unitsOfFacts(tx, [...new Set(again.map(({ fact }) => fact))]))];
    const events = await readEvents(tx, [...new Set(touched.map(({ unit }) => unit))]);
    const chains = Map.groupBy(events, ({ unit }) => unit);
    const causeOf = new Map([...chains.values()].flatMap((chain) => workBefore(chain, moved)));
    const ordered = orderEvents(effectiveOfEach(events)).map(({ fact }) => fact);
    return [...new Set(ordered)].flatMap((id) => {
      const cause = causeOf.get(id);
      return cause === undefined ? [] : [{ id, cause }];
    });
  });
  return await withOwners(app, found);
}

/** Those that say where a unit is, and what they replace, if that did; each with its cause. */
function movesOf(events: readonly UnitEvent[], changed: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  const replaced = events.flatMap(({ fact, effect }): [string, string][] => {
    const cause = changed.get(fact);
    return cause === undefined || effect.replaces === undefined ? [] : [[effect.replaces, cause]];
  });
  const said = new Set(
    events.flatMap(({ fact, effect }) => (effect.custody === undefined ? [] : [fact, effect.judges])),
  );
  return new Map([...changed, ...replaced].filter(([fact]) => said.has(fact)));
}

/** Of one unit. Before anybody had said where it is nothing was held for it. */
function workBefore(events: readonly UnitEvent[], moved: ReadonlyMap<string, string>): [string, string][] {
  const moves = withReached(events).filter(({ fact }) => moved.has(fact));
  const last = moves.toSorted((a, b) => (endOf(a) < endOf(b) ? -1 : 1)).at(-1);
  const cause = moved.get(last?.fact ?? '');
  if (last === undefined || cause === undefined) return [];
  const ordered = orderEvents(effectiveEvents(events));
  const first = ordered.findIndex(({ effect }) => effect.custody !== undefined);
  return ordered
    .filter((event, index) => first >= 0 && index > first && isJudged(event) && endOf(event) <= endOf(last))
    .map(({ fact }) => [fact, cause]);
}
