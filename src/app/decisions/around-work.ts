/** Where a record stands in the order of work of a unit: the state just before it, and what came after it. */
import { recordKinds } from '../../core/catalogue/edition.ts';
import { effectiveEvents, placeOf } from '../../core/history/effective-events.ts';
import type { UnitEvent } from '../../core/history/event.ts';
import { fold } from '../../core/history/fold.ts';
import { endOf, orderEvents } from '../../core/history/order-events.ts';
import type { UnitAtHand } from '../../core/judge/case.ts';
import { lifeKinds } from '../../core/records/life-bodies.ts';
import type { Interval } from '../../core/time/instant.ts';
import type { Touched } from '../judging/touched.ts';
import type { Loaded } from '../recording/loaded.ts';

export type Placed = {
  readonly fact: string;
  readonly kind: string;
  readonly body: { readonly after?: string | undefined };
};

/** With `after` where that is stated. */
export function aroundWork(
  placed: Placed,
  loaded: Loaded,
  unit: string,
  performed: Interval,
): Pick<UnitAtHand, 'state' | 'later'> {
  const events = loaded.events.get(unit) ?? [];
  const { before, later } = withRecord(placed, loaded, unit, performed);
  return { state: { ...fold(unit, before), ...timeless(unit, events) }, later };
}

/** The events that count, as they stand before and after the record. */
export function withRecord(
  { fact, kind, body }: Placed,
  loaded: Loaded,
  unit: string,
  performed: Interval,
): { readonly before: readonly UnitEvent[]; readonly later: readonly UnitEvent[] } {
  const head = loaded.heads.get(unit);
  const now = head === undefined || head.recordedAt < loaded.now ? loaded.now : head.recordedAt;
  const first = loaded.firstSaid?.get(unit);
  const probe: UnitEvent = {
    unit,
    seq: (head?.seq ?? 0) + 1,
    prev: null,
    fact,
    kind,
    performedFrom: performed.from,
    performedTo: performed.to,
    recordedAt: now,
    after: body.after ?? null,
    effect: {},
    ...(first && placeOf({ performedFrom: performed.from, recordedAt: now }, first)),
  };
  const ordered = orderEvents([...effectiveEvents(loaded.events.get(unit) ?? []), probe]);
  const at = ordered.indexOf(probe);
  return { before: ordered.slice(0, at), later: ordered.slice(at + 1) };
}

/**
 * What follows on these units is judged again: nothing, as a rule, since most records come in the order of the work.
 * Work, movements and start-ups are judged by what was there before, and by what was mounted.
 */
export function followingOn(units: readonly (Pick<UnitAtHand, 'later'> | null)[]): Touched[] {
  return units.some((unit) => unit?.later.some(isJudgedAgain)) ? [{ what: 'following' }] : [];
}

/**
 * After a mounting also what was done later on whatever else its units were ever mounted with: such work may name the pump,
 * and have touched the control alone that it was thought to be on.
 */
export function followingMounting(units: readonly string[], loaded: Loaded, { to }: Interval): Touched[] {
  const eventsOf = (unit: string) => loaded.events.get(unit) ?? [];
  const partners = units.flatMap((unit) => eventsOf(unit).flatMap(({ effect }) => effect.mounted?.with ?? []));
  return followingOn([{ later: [...units, ...partners].flatMap(eventsOf).filter((event) => endOf(event) > to) }]);
}

function isJudgedAgain(event: UnitEvent): boolean {
  return isJudged(event) || (lifeKinds as readonly string[]).includes(event.kind);
}

/** Work, and what corrects it. */
export function isJudged({ kind }: UnitEvent): boolean {
  return kind === 'correction' || (recordKinds as readonly string[]).includes(kind);
}

/** Whether `after` names a record of one of these units, where it names one. */
export function afterIsKnown(placed: Placed, loaded: Loaded, units: readonly (UnitAtHand['unit'] | null)[]): boolean {
  const { after } = placed.body;
  if (after === undefined) return true;
  return units.some((unit) => unit !== null && (loaded.events.get(unit) ?? []).some((event) => event.fact === after));
}

/** What a unit is, and since when, doesn't depend on when it was seen. */
function timeless(unit: string, events: readonly UnitEvent[]) {
  const { born, builtAt } = fold(unit, events);
  return { born, builtAt };
}
