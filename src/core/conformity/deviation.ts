/** How far off an instrument is, and what a reading of it says then. */
import Fraction from 'fraction.js';
import { sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';

/**
 * (indicated − reference)/reference, 0.02 for 2 %; or indicated − reference in the base unit. An instrument that reads
 * low has a negative one: what was there is more than it says.
 */
export type Deviation = { readonly relative: Fraction } | { readonly absolute: Fraction };

export const noDeviation: Deviation = { relative: new Fraction(0) };

/** What was there when the instrument showed the reading, in the base unit: indicated/(1 + deviation), or their difference. */
export function referenceOf(reading: Quantity, deviation: Deviation): Fraction {
  const indicated = sizeOf(reading);
  return 'relative' in deviation ? indicated.div(deviation.relative.add(1)) : indicated.sub(deviation.absolute);
}

/** In a straight line from one (share 0) to the other (share 1): in % where both are, else as differences at the reading. */
export function deviationBetween(one: Deviation, other: Deviation, share: Fraction, reading: Quantity): Deviation {
  if ('relative' in one && 'relative' in other) return { relative: line(one.relative, other.relative, share) };
  const off = (deviation: Deviation) => sizeOf(reading).sub(referenceOf(reading, deviation));
  return { absolute: line(off(one), off(other), share) };
}

function line(from: Fraction, to: Fraction, share: Fraction): Fraction {
  return from.add(to.sub(from).mul(share));
}
