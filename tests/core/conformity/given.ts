/** Short ways to say what the tests of conformity are about. */
import Fraction from 'fraction.js';
import { type Estimate, estimateOf } from '../../../src/core/conformity/estimate.ts';
import { differenceSizeOf } from '../../../src/core/quantity/exact.ts';
import type { Quantity } from '../../../src/core/quantity/quantity.ts';
import type { Range } from '../../../src/core/quantity/range.ts';

export const q = (value: string, unit: string): Quantity => ({ value, unit });

export const within = (min: string | null, max: string | null, unit: string): Range => ({
  min: min === null ? null : q(min, unit),
  max: max === null ? null : q(max, unit),
});

/** An estimate of so much with a standard uncertainty of so much, in one unit; null: not known. */
export function estimated(value: string, uncertainty: string | null, unit: string): Estimate {
  const variance = uncertainty === null ? null : differenceSizeOf(q(uncertainty, unit)).pow(2);
  return estimateOf(q(value, unit), variance === null ? null : new Fraction(variance));
}
