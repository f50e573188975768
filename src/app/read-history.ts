/**
 * The state of a unit as at one instant, as known at another, and the records that led there. The same pair gives the
 * same answer for ever: what may still change is answered at the settled horizon, and says so.
 */

import { asAt } from '../core/history/concession.ts';
import { effectiveEvents } from '../core/history/effective-events.ts';
import type { UnitEvent, UnitKind } from '../core/history/event.ts';
import { contradictions, eventsAt, fold } from '../core/history/fold.ts';
import { endOf, orderEvents } from '../core/history/order-events.ts';
import { isForOwnerAlone } from '../core/history/owner-alone.ts';
import { Problem } from '../errors.ts';
import { namesEverAround, type UnitName } from '../store/sql/find-units.ts';
import { eventsOf } from '../store/sql/read-events.ts';
import { type FactRow, readFactsOfUnits } from '../store/sql/read-facts.ts';
import { byIds, type WhichUnits } from '../store/sql/which-units.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { settledFor } from './horizon.ts';
import { type PageAsked, pageOf } from './page.ts';
import { isAnalyst, nameOf, readingContext, requireSight, requireUnit, type UnitPath, viewOf } from './read-unit.ts';
import { nothingSeen, type Seen } from './record-views.ts';

/** A unit that the asker may name, and the past of it that is asked for. */
export type PastAsked = {
  readonly unit: string;
  readonly kind: UnitKind;
  readonly maker: string;
  readonly performed: string | null;
  readonly known: string | null;
};
export type HistoryAsked = UnitPath &
  PageAsked &
  Pick<PastAsked, 'performed' | 'known'> & { readonly order: (typeof orders)[number] };
/** Which end of the work is listed first. */
export const orders = ['oldest', 'newest'] as const;

export async function readHistory(app: App, asker: Asker, asked: HistoryAsked) {
  requireSight(asker, asked.maker);
  const [past] = await readPasts(app, asker, async (tx) => [{ ...asked, unit: (await requireUnit(tx, asked)).unit }]);
  if (past === undefined || past instanceof Problem) throw past;
  const { entries, ...rest } = past;
  const listed = asked.order === 'newest' ? entries.toReversed() : entries;
  const { items, ...page } = pageOf(listed, asked, (entry) => entry.cursor);
  return { ...rest, ...page, items: items.map(({ fact, ...entry }) => ({ ...entry, ...saidIn(fact) })) };
}

function saidIn(fact: FactRow | null) {
  if (fact === null) return { statement: null, judgement: null };
  return { statement: JSON.parse(fact.statement) as unknown, judgement: JSON.parse(fact.judgement) as unknown };
}

export type Past = Exclude<Awaited<ReturnType<typeof readPasts>>[number], Problem>;
export type PastEntry = Past['entries'][number];

/**
 * Of several units at once, however many; for askers whose scopes were looked at and who may see these units. Entries
 * come whole, the oldest work first; a past that is not the asker's to see comes as the problem.
 * @param seen is told of every fact that was read
 */
export async function readPasts(
  app: App,
  asker: Asker,
  find: (tx: Tx) => Promise<readonly PastAsked[]>,
  seen: Seen = nothingSeen(),
) {
  const { asked, whole } = await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const asked = await find(tx);
    const units = byIds([...new Set(asked.map(({ unit }) => unit))]);
    return { asked, whole: await tx.last(() => readWhole(tx, units)) };
  });
  for (const [id, fact] of whole.visible) seen.facts.set(id, fact);
  return asked.map((one) => pastOf(asker, one, whole));
}

export function pastOf(asker: Asker, asked: PastAsked, { events: all, now, names, visible }: Whole) {
  const events = all.get(asked.unit) ?? [];
  const own = events.flatMap(({ fact, effect }) =>
    [fact, effect.judges ?? fact].flatMap((id) => visible.get(id) ?? []),
  );
  const { known, settled, horizon } = settledFor(asked.known, now);
  const performed = asked.performed ?? now;
  const heard = events.filter((event) => known === null || event.recordedAt <= known);
  const knownThen = effectiveEvents(heard);
  if ((asked.performed !== null || asked.known !== null) && !isAnalyst(asker) && own.length === 0) {
    return new Problem(
      'history-restricted',
      'Past states of a unit are for those who have recorded work on it. Leave out performed and known for the state as it is now.',
    );
  }
  // Asked for what was known, an end that came since had not come: the same question has one answer.
  const state = asAt(fold(asked.unit, eventsAt(knownThen, performed, null)), asked.performed ?? known ?? now);
  const ordered = orderEvents(knownThen).filter((event) => endOf(event) <= performed);
  const isShown = (event: UnitEvent) => own.some(({ id }) => id === event.fact) || !isForOwnerAlone(event, events);
  const listed = orderEvents(heard).filter((event) => endOf(event) <= performed && isShown(event));
  return {
    performed: asked.performed,
    ...{ known, settled, horizon },
    state: {
      ...viewOf(state, asked.kind, asked.maker, names, own),
      changedUnrecorded: contradictions(state, knownThen, performed),
    },
    mountings: mountingsOf(ordered, names),
    entries: listed.map((event) => recordOf(event, heard, own)),
  };
}

type Whole = Awaited<ReturnType<typeof readWhole>>;

/**
 * Events of the units whole: nobody's evidence is in them, and the fold must not depend on who asks. The facts are those
 * that the asker may see.
 */
export async function readWhole(tx: Tx, which: WhichUnits) {
  const whole = tx.as('recorder');
  const [events, names, facts, now] = await Promise.all([
    eventsOf(whole, which),
    namesEverAround(whole, which),
    readFactsOfUnits(tx, which),
    tx.began,
  ]);
  const visible = new Map(facts.map((fact) => [fact.id, fact]));
  return { events: Map.groupBy(events, ({ unit }) => unit), now, names, visible };
}

/** One's own records with what they say; of the others only that there was work, and when. */
function recordOf(event: UnitEvent, heard: readonly UnitEvent[], own: readonly FactRow[]) {
  const { seq, kind, performedFrom, performedTo, recordedAt } = event;
  const correction = heard.find(({ effect }) => effect.replaces === event.fact);
  const dates = {
    kind,
    performed: { from: performedFrom, to: performedTo },
    recordedAt,
    cursor: String(seq),
    counts: correction === undefined,
  };
  const fact = own.find((one) => one.id === event.fact);
  if (fact === undefined) return { ...dates, id: null, correctedBy: null, fact: null };
  return { ...dates, id: fact.id, correctedBy: correction?.fact ?? null, fact };
}

/** What sat on what, from when to when. */
export function mountingsOf(ordered: readonly UnitEvent[], names: readonly UnitName[]) {
  const periods: { unit: string; name: string | null; from: string; to: string | null }[] = [];
  for (const { effect, performedTo } of ordered) {
    if (effect.mounted === undefined) continue;
    const { with: unit, on } = effect.mounted;
    if (on) periods.push({ unit, name: nameOf(names, unit), from: performedTo, to: null });
    else {
      const open = periods.findLast((period) => period.unit === unit && period.to === null);
      if (open !== undefined) open.to = performedTo;
    }
  }
  return periods;
}
