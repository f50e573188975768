/**
 * The state of a unit as at one instant, as known at another, and the records that led there. The same pair gives the
 * same answer for ever: what may still change is answered at the settled horizon, and says so.
 */

import { effectiveEvents } from '../core/history/effective-events.ts';
import type { UnitEvent } from '../core/history/event.ts';
import { contradictions, eventsAt, fold } from '../core/history/fold.ts';
import { endOf, orderEvents } from '../core/history/order-events.ts';
import { addMicroseconds } from '../core/time/instant.ts';
import { Problem } from '../errors.ts';
import { namesOfUnits } from '../store/sql/find-units.ts';
import { readEvents } from '../store/sql/read-events.ts';
import { type FactRow, readFacts } from '../store/sql/read-facts.ts';
import { readStart } from '../store/sql/read-start.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { type PageAsked, pageOf } from './page.ts';
import { isAnalyst, nameOf, readingContext, requireSight, requireUnit, type UnitPath, viewOf } from './read-unit.ts';
import { recordingTimeouts } from './recording/record-all.ts';

export type HistoryAsked = UnitPath &
  PageAsked & {
    readonly performed: string | null;
    readonly known: string | null;
    readonly order: (typeof orders)[number];
  };
/** Which end of the work is listed first. */
export const orders = ['oldest', 'newest'] as const;

/** A second beyond the longest recording: what is older than that can't change any more. */
const settledAfter = (recordingTimeouts.transactionMs + 1_000) * 1_000;

export async function readHistory(app: App, asker: Asker, asked: HistoryAsked) {
  requireSight(asker, asked.maker);
  const { unit, events, now, names } = await readWhole(app, asked);
  const horizon = addMicroseconds(now, -settledAfter);
  const known = asked.known !== null && asked.known > horizon ? horizon : asked.known;
  const performed = asked.performed ?? now;
  const heard = events.filter((event) => known === null || event.recordedAt <= known);
  const knownThen = effectiveEvents(heard);
  const own = await visibleFacts(app, asker, events);
  if ((asked.performed !== null || asked.known !== null) && !isAnalyst(asker) && own.length === 0) {
    throw new Problem(
      'history-restricted',
      'Past states of a unit are for those who have recorded work on it. Leave out performed and known for the state as it is now.',
    );
  }
  const state = fold(unit, eventsAt(knownThen, performed, null));
  const ordered = orderEvents(knownThen).filter((event) => endOf(event) <= performed);
  const listed = orderEvents(heard).filter((event) => endOf(event) <= performed && isForAsker(event, events, own));
  return {
    performed: asked.performed,
    /** What was answered for: the horizon where later was asked, null where nothing was. */
    known,
    settled: known !== null,
    horizon,
    state: {
      ...viewOf(state, asked.kind, asked.maker, names, own),
      changedUnrecorded: contradictions(state, knownThen, performed),
    },
    mountings: mountingsOf(ordered, names),
    ...pageOf(
      (asked.order === 'newest' ? listed.toReversed() : listed).map((event) => recordOf(event, heard, own)),
      asked,
      (record) => record.cursor,
    ),
  };
}

/** Events of the unit whole: nobody's evidence is in them, and the fold must not depend on who asks. */
async function readWhole(app: App, asked: HistoryAsked) {
  return await withTransaction(app.pools.reading, { role: 'recorder', orgs: [], readOnly: true }, async (tx) => {
    const { unit } = await requireUnit(tx, asked);
    const events = await readEvents(tx, [unit]);
    return { unit, events, now: await readStart(tx), names: await namesOfUnits(tx, partnersIn(unit, events)) };
  });
}

function partnersIn(unit: string, events: readonly UnitEvent[]): string[] {
  return [...new Set([unit, ...events.flatMap((event) => event.effect.mounted?.with ?? [])])];
}

async function visibleFacts(app: App, asker: Asker, events: readonly UnitEvent[]): Promise<FactRow[]> {
  const ids = [...new Set(events.map((event) => event.fact))];
  return await withTransaction(app.pools.reading, readingContext(asker), (tx: Tx) => readFacts(tx, ids));
}

/** That a unit was moved, or runs somewhere, and when, is for who recorded it; the dates of work are for everybody. */
function isForAsker(event: UnitEvent, events: readonly UnitEvent[], own: readonly FactRow[]): boolean {
  if (own.some((fact) => fact.id === event.fact)) return true;
  const replaced = events.find(({ fact }) => fact === event.effect.replaces);
  return (
    event.kind !== 'movement' &&
    event.kind !== 'start-up' &&
    (replaced === undefined || isForAsker(replaced, events, own))
  );
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
  if (fact === undefined) return { ...dates, id: null, correctedBy: null, statement: null, judgement: null };
  return {
    ...dates,
    id: fact.id,
    correctedBy: correction?.fact ?? null,
    statement: JSON.parse(fact.statement) as unknown,
    judgement: JSON.parse(fact.judgement) as unknown,
  };
}

/** What sat on what, from when to when. */
function mountingsOf(ordered: readonly UnitEvent[], names: Awaited<ReturnType<typeof readWhole>>['names']) {
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
