import type { Difference } from '../../store/projections/compare-expected.ts';

/** A table that is wrong altogether would fill the memory. */
export const mostListed = 1_000;

/** Differences as they are found: all are counted, the first are kept. */
export type Noted = { count: number; readonly differences: Difference[] };

export function note(noted: Noted, ...found: readonly Difference[]): void {
  noted.count += found.length;
  noted.differences.push(...found.slice(0, Math.max(0, mostListed - noted.differences.length)));
}
