/** Where the uncertainty of a reading comes from: each source as a variance, exact, in the base unit squared. */
import type Fraction from 'fraction.js';
import { differenceSizeOf, sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';

/** All that lies within ± a is equally likely: u = a/√3 (GUM, JCGM 100:2008, 4.3.7). */
export function rectangular(halfWidth: Fraction): Fraction {
  return halfWidth.pow(2).div(3);
}

/** A scale or display that shows steps of r: u = r/√12 (GUM F.2.2.1). */
export function resolution(step: Fraction): Fraction {
  return step.pow(2).div(12);
}

/** A standard deviation of repeated readings stands for one reading as it is (GUM 4.2.2). */
export function dispersion(standardDeviation: Fraction): Fraction {
  return standardDeviation.pow(2);
}

/**
 * A difference that belongs to a reading, in the base unit: as it stands, or where it is in % that part of the reading.
 * Null where that means nothing: another dimension, or a part of a temperature, whose zero is a matter of the scale.
 * Of a reading that is itself in %, % are points.
 */
export function differenceAt(difference: Quantity, reading: Quantity): Fraction | null {
  const dimension = dimensionOf(reading.unit);
  if (dimensionOf(difference.unit) === dimension) return differenceSizeOf(difference);
  if (difference.unit !== '%' || dimension === 'temperature') return null;
  return differenceSizeOf(difference).mul(sizeOf(reading));
}
