/** Whether what a process holds grows with what it has done. */
import { median } from './figures.ts';

/** Of the second quarter's median, once everything has been used, the last quarter's may be so much. */
const mayGrow = 1.1;

export type Flatness = {
  readonly early: number;
  readonly late: number;
  readonly ratio: number;
  readonly flat: boolean;
};

/** @throws RangeError with fewer than eight samples: two a quarter. */
export function flatnessOf(samples: readonly number[]): Flatness {
  if (samples.length < 8) throw new RangeError(`${samples.length} samples say nothing: take 8 or more`);
  const quarter = Math.floor(samples.length / 4);
  const early = median(samples.slice(quarter, 2 * quarter));
  const late = median(samples.slice(-quarter));
  return { early, late, ratio: late / early, flat: late / early <= mayGrow };
}
