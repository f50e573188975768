/**
 * What a reading tells of the thing that was measured: the best estimate with its standard uncertainty. Sizes are exact
 * and in the base unit of their dimension, uncertainties are kept as their squares (variances), which are exact too:
 * only so do comparisons with a limit not depend on the unit in which somebody read.
 */
import Fraction from 'fraction.js';
import { compare, differenceSizeOf, fromDifferenceSize, fromSize, sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { doubleOf } from './double.ts';

/** `variance` is the standard uncertainty squared; null: nothing is known of it. `unit` is the one that was read in. */
export type Estimate = { readonly size: Fraction; readonly variance: Fraction | null; readonly unit: string };

/** An extension of so much on an arm of so much; see `through`. */
export type Extension = { readonly arm: Quantity; readonly extension: Quantity };

/** The reading taken as it is, without uncertainty unless one is given as a variance in the base unit squared. */
export function estimateOf(reading: Quantity, variance: Fraction | null = new Fraction(0)): Estimate {
  return { size: sizeOf(reading), variance, unit: reading.unit };
}

/**
 * The torque that arrives where a tool of arm L sits on an extension E: M·(L+E)/L (lever rule). What is uncertain of M
 * is uncertain in the same proportion.
 */
export function through(estimate: Estimate, { arm, extension }: Extension): Estimate {
  const lever = differenceSizeOf(arm);
  const factor = differenceSizeOf(extension).add(lever).div(lever);
  const { size, variance, unit } = estimate;
  return { size: size.mul(factor), variance: variance?.mul(factor.pow(2)) ?? null, unit };
}

/**
 * One less the other, read with two instruments: the variances add (GUM, JCGM 100:2008, 5.1.2, inputs not correlated;
 * two gauges of one maker and lot may well be, in the favourable sense). Of temperatures that is a difference: don't.
 */
export function differenceOf(one: Estimate, other: Estimate): Estimate {
  const variance = one.variance === null || other.variance === null ? null : one.variance.add(other.variance);
  return { size: one.size.sub(other.size), variance, unit: one.unit };
}

/** The standard uncertainty in the unit that was read in, to three significant digits; null: not known. */
export function standardUncertaintyOf({ variance, unit }: Estimate): Quantity | null {
  return variance === null ? null : rootOf(variance, unit);
}

/** √variance as a difference in a unit, to three significant digits. */
export function rootOf(variance: Fraction, unit: string): Quantity {
  const root = Math.sqrt(doubleOf(variance));
  return fromDifferenceSize(new Fraction(root), unit, { significant: 3 });
}

/**
 * The estimate in the unit that was read in: as the reading where nothing was corrected, else to the decimals of the
 * uncertainty, or to six significant digits where that isn't known or nothing.
 */
export function estimateAsQuantity(estimate: Estimate, reading: Quantity): Quantity {
  const { size, unit } = estimate;
  if (size.equals(sizeOf(reading))) return { value: reading.value, unit: reading.unit };
  const uncertainty = standardUncertaintyOf(estimate);
  if (uncertainty === null || compare(uncertainty, { value: '0', unit }) === 0)
    return fromSize(size, unit, { significant: 6 });
  return fromSize(size, unit, { decimals: uncertainty.value.split('.')[1]?.length ?? 0 });
}
