/** Events of one unit, written short: day and hour of March 2026, in UTC. */
import type { UnitEvent } from '../../../src/core/history/event.ts';
import { parseTime, type TimeInput } from '../../../src/core/time/instant.ts';

export type Given = Partial<Omit<UnitEvent, 'performedFrom' | 'performedTo' | 'recordedAt'>> & {
  readonly done?: TimeInput;
  readonly recorded?: string;
};

export function event(seq: number, { done = at(1), recorded = at(28), ...rest }: Given = {}): UnitEvent {
  const { from, to } = parseTime(done);
  return {
    ...{ unit: 'u', seq, prev: null, fact: `f${seq}`, kind: 'inspection', after: null, effect: {} },
    ...{ performedFrom: from, performedTo: to, recordedAt: parseTime(recorded).to },
    ...rest,
  };
}

export function at(day: number, hour = 0): string {
  return `2026-03-${String(day).padStart(2, '0')}T${String(hour).padStart(2, '0')}:00:00Z`;
}

export function onDay(day: number): TimeInput {
  return { at: at(day), precision: 'day' };
}

/** How instants are kept. */
export function instant(day: number, hour = 0): string {
  return at(day, hour).replace('Z', '.000000Z');
}
