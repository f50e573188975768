/**
 * The order of work: by the end of the interval in which the work was done, which is never later than the recording;
 * but where two intervals overlap an explicit `after` wins; then by `seq`.
 */
import type { UnitEvent } from './event.ts';

export function orderEvents(events: readonly UnitEvent[]): UnitEvent[] {
  const ordered = [...events].sort((a, b) => compareText(endOf(a), endOf(b)) || a.seq - b.seq);
  for (const event of events.filter((one) => one.after !== null).sort((a, b) => a.seq - b.seq)) {
    const at = ordered.indexOf(event);
    const earlier = ordered.findIndex((one) => one.fact === event.after);
    const other = ordered[earlier];
    if (other === undefined || earlier < at || !overlap(event, other)) continue;
    ordered.splice(at, 1);
    ordered.splice(earlier, 0, event);
  }
  return ordered;
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
