/**
 * The order of work: by the end of the interval in which the work was done, which is never later than the recording;
 * but where two intervals overlap an explicit `after` wins; then by `seq`, then by the recording: records that only
 * judgements brought to the unit may share a place.
 */
import type { UnitEvent } from './event.ts';

/**
 * What an event comes after is brought forward to just before it, never the event put back: so two events whose
 * intervals don't overlap keep their order, whatever is said about a third.
 */
export function orderEvents(events: readonly UnitEvent[]): UnitEvent[] {
  const byFact = new Map(events.map((event) => [event.fact, event]));
  const ordered = new Set<UnitEvent>();
  const onTheWay = new Set<UnitEvent>();
  const place = (event: UnitEvent) => {
    if (ordered.has(event) || onTheWay.has(event)) return;
    onTheWay.add(event);
    const earlier = event.after === null ? undefined : byFact.get(event.after);
    if (earlier !== undefined && overlap(event, earlier)) place(earlier);
    ordered.add(event);
  };
  for (const event of [...events].sort((a, b) => inPlace(a, b))) place(event);
  return [...ordered];
}

function inPlace(a: UnitEvent, b: UnitEvent): number {
  return (
    compareText(endOf(a), endOf(b)) ||
    a.seq - b.seq ||
    compareText(a.recordedAt, b.recordedAt) ||
    compareText(a.fact, b.fact)
  );
}

/** The instant at which the work counts as done. */
export function endOf({ performedTo, recordedAt }: UnitEvent): string {
  return performedTo < recordedAt ? performedTo : recordedAt;
}

function overlap(a: UnitEvent, b: UnitEvent): boolean {
  return a.performedFrom <= b.performedTo && b.performedFrom <= a.performedTo;
}

function compareText(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
