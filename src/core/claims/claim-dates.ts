/** Since when a unit counts as delivered and started up: as the claim says it, else as the records do. */
import type { Interval } from '../time/instant.ts';
import type { ClaimedPart } from './claim-body.ts';
import type { Dated } from './coverage.ts';

/** What records of the claim's distributor say of the unit, in any order. */
export type OnRecord = { readonly delivered: readonly Dated[]; readonly startedUp: readonly Dated[] };
export type Stated = {
  readonly claim: string;
  readonly deliveredAt: Interval | null;
  readonly startedUpAt: Interval | null;
};
export type ClaimDates = { readonly delivered: Dated | null; readonly startedUp: Dated | null };

/**
 * A pump or control was new when it first went out; a kit part and workmanship were when it last did so before it failed.
 * Two records of one time: the one with the lower id, so that the order of arrival doesn't matter.
 */
export function claimDates(part: ClaimedPart, stated: Stated, failed: Interval, onRecord: OnRecord): ClaimDates {
  const isNewWithUnit = part === 'pump' || part === 'control';
  const pick = (own: Interval | null, listed: readonly Dated[]): Dated | null => {
    if (own !== null) return { at: own, record: stated.claim, said: 'claim' };
    const before = listed.filter(({ at }) => at.from <= failed.to).toSorted(byTime);
    return before.at(isNewWithUnit ? 0 : -1) ?? null;
  };
  return {
    delivered: pick(stated.deliveredAt, onRecord.delivered),
    startedUp: pick(stated.startedUpAt, onRecord.startedUp),
  };
}

function byTime(a: Dated, b: Dated): number {
  const [one, other] = [`${a.at.from} ${a.at.to} ${a.record}`, `${b.at.from} ${b.at.to} ${b.record}`];
  return one < other ? -1 : 1;
}
