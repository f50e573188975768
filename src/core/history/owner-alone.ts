/** What of a unit's past is for who recorded it alone. */
import type { UnitEvent } from './event.ts';

/**
 * That a unit was moved, or runs somewhere, and what corrects that, tells of somebody's business; that there was work, and
 * when, is for everybody. `events`: those of the unit, with what a correction replaces.
 */
export function isForOwnerAlone({ kind, effect }: UnitEvent, events: readonly UnitEvent[]): boolean {
  const replaced = events.find(({ fact }) => fact === effect.replaces);
  return kind === 'movement' || kind === 'start-up' || (replaced !== undefined && isForOwnerAlone(replaced, events));
}
