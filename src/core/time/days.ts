import { type Instant, microsecondsBetween } from './instant.ts';

const microsecondsADay = 86_400_000_000n;

/** Whole days from then to an instant, rounded down: in its last hours none is left, what is over for some hours is at -1. */
export function daysTo(until: Instant, at: Instant): number {
  const left = microsecondsBetween(at, until);
  const rest = left % microsecondsADay;
  // BigInt rounds towards 0.
  return Number((left - (rest < 0n ? rest + microsecondsADay : rest)) / microsecondsADay);
}
