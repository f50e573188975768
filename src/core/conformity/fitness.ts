import Fraction from 'fraction.js';
import { sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Range } from '../quantity/range.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { coverageFactor } from './decision-rule.ts';
import { doubleOf } from './double.ts';
import type { Estimate } from './estimate.ts';

/**
 * Whether an instrument is fine enough for a requirement. `ratio` is half the tolerance over the expanded uncertainty,
 * T/(2U) = T/(4u): the measurement capability index of JCGM 106:2012, 7.6.3; null with one limit, or where the
 * uncertainty is nothing or not known. `fit`: the ratio is at least 4 (common practice of calibration, "4:1"; JCGM 106
 * sets no number), or there is no uncertainty; null where the ratio can't be told. `partOfRange` is the reading over the
 * highest that the instrument shows: what is calibrated from 20 % on says little below.
 */
export type Fitness = {
  readonly ratio: number | null;
  readonly fit: boolean | null;
  readonly partOfRange: number | null;
};

const leastRatio = 4;

export function fitnessOf(estimate: Estimate, range: Range, reading: Quantity, highest: Quantity | null): Fitness {
  const { ratio, fit } = ratioOf(estimate, range);
  return { ratio, fit, partOfRange: partOf(reading, highest) };
}

function ratioOf({ variance }: Estimate, { min, max }: Range): Pick<Fitness, 'ratio' | 'fit'> {
  if (min === null || max === null || variance === null) return { ratio: null, fit: null };
  if (variance.equals(0)) return { ratio: null, fit: true };
  const tolerance = sizeOf(max).sub(sizeOf(min));
  const squared = tolerance.pow(2).div(variance.mul(new Fraction(2 * coverageFactor).pow(2)));
  return { ratio: toThousandths(Math.sqrt(doubleOf(squared))), fit: squared.compare(leastRatio ** 2) >= 0 };
}

function partOf(reading: Quantity, highest: Quantity | null): number | null {
  if (highest === null || dimensionOf(highest.unit) !== dimensionOf(reading.unit)) return null;
  if (dimensionOf(highest.unit) === 'temperature' || sizeOf(highest).compare(0) <= 0) return null;
  return toThousandths(doubleOf(sizeOf(reading).div(sizeOf(highest))));
}

function toThousandths(number: number): number {
  return Math.round(number * 1000) / 1000;
}
