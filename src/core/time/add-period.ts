import type { Instant } from './instant.ts';

/**
 * The instant so much later, by the calendar in UTC; a day that the month hasn't becomes its last one.
 * @param period whole years, months or days as ISO 8601 writes them: P10Y, P18M, P90D
 */
export function addPeriod(instant: Instant, period: string): Instant {
  const [, count, unit] = /^P(\d+)([YMD])$/.exec(period) ?? [];
  if (count === undefined) throw new RangeError(`${JSON.stringify(period)} is no period such as P10Y, P18M or P90D`);
  const [year = 0, month = 0, day = 0] = instant.slice(0, 10).split('-').map(Number);
  if (unit === 'D') return dated(Date.UTC(year, month - 1, day + Number(count)), instant);
  const months = month - 1 + Number(count) * (unit === 'Y' ? 12 : 1);
  const lastDay = new Date(Date.UTC(year, months + 1, 0)).getUTCDate();
  return dated(Date.UTC(year, months, Math.min(day, lastDay)), instant);
}

/** What comes after the last year that a time may have is never reached. */
function dated(milliseconds: number, instant: Instant): Instant {
  const last = Date.UTC(9999, 11, 31);
  return `${new Date(milliseconds > last || Number.isNaN(milliseconds) ? last : milliseconds).toISOString().slice(0, 10)}${instant.slice(10)}`;
}
