/** The units that a claim is about: the one that it names, and what that was mounted with when it failed. */
import { effectiveEvents } from '../history/effective-events.ts';
import type { UnitEvent } from '../history/event.ts';
import { orderEvents } from '../history/order-events.ts';

/** Both ends belong to it. */
type Failed = { readonly from: string; readonly to: string };

/**
 * A pump is claimed for what its control did, and the other way round. Where the day of the failure, or that of a mounting,
 * is not known exactly, whatever may have been on it counts: a unit too many is looked at, one too few isn't.
 * @param events of the unit that is named
 * @returns ids, the named unit's first
 */
export function concernedUnits(unit: string, failed: Failed, events: readonly UnitEvent[]): string[] {
  const on = new Map<string, string>();
  const concerned = new Set([unit]);
  for (const { effect, performedFrom, performedTo } of orderEvents(effectiveEvents(events))) {
    if (effect.mounted === undefined) continue;
    const { with: partner, on: isOn } = effect.mounted;
    const since = on.get(partner);
    if (isOn) on.set(partner, performedFrom);
    else {
      on.delete(partner);
      if (since !== undefined && since <= failed.to && performedTo >= failed.from) concerned.add(partner);
    }
  }
  for (const [partner, since] of on) if (since <= failed.to) concerned.add(partner);
  return [...concerned];
}
