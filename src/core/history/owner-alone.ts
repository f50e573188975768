/** What of a unit's past is for who recorded it alone. */
import { withReached } from './effective-events.ts';
import type { UnitEvent } from './event.ts';

/**
 * That a unit was moved, or runs somewhere, and what corrects that, tells of somebody's business; that there was work, and
 * when, is for everybody. `events`: those of the unit, with what a correction replaces and what a judgement is about.
 */
export function isForOwnerAlone({ kind, effect }: UnitEvent, events: readonly UnitEvent[]): boolean {
  if (kind === 'movement' || kind === 'start-up') return true;
  const record = effect.replaces ?? effect.judges;
  if (record === undefined) return false;
  const about = withReached(events).find(({ fact }) => fact === record);
  return about !== undefined && isForOwnerAlone(about, events);
}
