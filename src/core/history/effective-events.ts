/** Events as they count: what a correction replaces doesn't, and what was judged again counts as judged last. */
import type { Placed, UnitEvent } from './event.ts';

/**
 * Of one unit. A correction stands where the record stood that it replaces, in the order of work too; it may itself be replaced. An
 * event that judges another one again gives it its effect, and has no place of its own: on a unit that the record didn't
 * touch itself it stands for the record. Doing it twice changes nothing.
 */
export function effectiveEvents(raw: readonly UnitEvent[]): UnitEvent[] {
  const events = withReached(raw);
  const replacing = new Map(events.flatMap((event) => named(event.effect.replaces, event)));
  const judging = new Map(events.toSorted(bySeq).flatMap((event) => named(event.effect.judges, event)));
  if (replacing.size === 0 && judging.size === 0) return [...events];
  const bySelf = new Map(events.map((event) => [event.fact, event]));
  return events
    .filter(({ fact, effect }) => !replacing.has(fact) && effect.judges === undefined)
    .filter(({ fact }) => judging.get(fact)?.effect.placed !== null)
    .map((event) => ({
      ...event,
      ...placeOf(event, firstOf(event, bySelf)),
      after: event.after === null ? null : lastOf(event.after, replacing),
      effect: judgedLast(event, judging),
    }));
}

/** Of several units: what a judgement says on one of them is of that one. */
export function effectiveOfEach(events: readonly UnitEvent[]): UnitEvent[] {
  return [...Map.groupBy(events, ({ unit }) => unit).values()].flatMap(effectiveEvents);
}

/** With the records that only a later judgement brought to this unit, each in the place that it would have had there. */
export function withReached(events: readonly UnitEvent[]): readonly UnitEvent[] {
  const told = new Set(events.map(({ fact }) => fact));
  const reached = new Map<string, UnitEvent>();
  for (const event of events.toSorted(bySeq)) {
    const { judges, placed } = event.effect;
    if (judges === undefined || !placed || told.has(judges) || reached.has(judges)) continue;
    reached.set(judges, { ...event, ...placed, ...placeAmong(events, placed), fact: judges, effect: {} });
  }
  return reached.size === 0 ? events : [...events, ...reached.values()];
}

/** The place of what was recorded then, on a unit whose chain it is not in: right behind what had been recorded there. */
export function placeAmong(
  events: readonly UnitEvent[],
  { recordedAt }: Pick<Placed, 'recordedAt'>,
): Pick<UnitEvent, 'seq' | 'recordedAt'> {
  const before = events.filter((event) => event.recordedAt <= recordedAt);
  return { seq: Math.max(0, ...before.map(({ seq }) => seq)) + 0.5, recordedAt };
}

/** That it was judged again is no part of what it did: it would be taken for a judgement the second time. */
function judgedLast(event: UnitEvent, judging: ReadonlyMap<string, UnitEvent>): UnitEvent['effect'] {
  const again = judging.get(event.fact);
  if (again === undefined) return event.effect;
  const { judges: _, placed: __, ...effect } = again.effect;
  return effect;
}

function named(fact: string | undefined, event: UnitEvent): [string, UnitEvent][] {
  return fact === undefined ? [] : [[fact, event]];
}

/** What places it among others of the same time: work that was done when it was first told of was done by then. */
export function placeOf(
  { performedFrom, recordedAt }: Pick<UnitEvent, 'performedFrom' | 'recordedAt'>,
  first: Pick<UnitEvent, 'seq' | 'recordedAt'>,
): Pick<UnitEvent, 'seq' | 'recordedAt'> {
  return { seq: first.seq, recordedAt: performedFrom <= first.recordedAt ? first.recordedAt : recordedAt };
}

/** The record that was first said of this work. */
export function firstSaid(fact: string, events: readonly UnitEvent[]): UnitEvent | null {
  const bySelf = new Map(withReached(events).map((event) => [event.fact, event]));
  const event = bySelf.get(fact);
  return event === undefined ? null : firstOf(event, bySelf);
}

function firstOf(event: UnitEvent, bySelf: ReadonlyMap<string, UnitEvent>): UnitEvent {
  const earlier = event.effect.replaces === undefined ? undefined : bySelf.get(event.effect.replaces);
  return earlier === undefined ? event : firstOf(earlier, bySelf);
}

/** What is said of this work now. */
function lastOf(fact: string, replacing: ReadonlyMap<string, UnitEvent>): string {
  const later = replacing.get(fact);
  return later === undefined ? fact : lastOf(later.fact, replacing);
}

function bySeq(a: UnitEvent, b: UnitEvent): number {
  return a.seq - b.seq;
}
