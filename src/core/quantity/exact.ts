/**
 * Sums and comparisons of measured values. Everything is done with fractions: whoever reads 61 N·m in lbf·ft gets
 * the same verdict. Mixing dimensions, or a value that never passed `quantitySchema`, is a bug and throws a
 * RangeError.
 */
import Fraction from 'fraction.js';
import { decimalOf } from './decimal.ts';
import type { Quantity } from './quantity.ts';
import { definitionOf } from './unit.ts';

/**
 * Decimals kept where a sum of two units has no end as a decimal (bar and psi). Far more than a reading or an exact
 * conversion of one has, so that no reading can fall between the sum and what is kept of it.
 */
const mostDecimals = 60;

/** Whether a is less than (-1), the same size as (0) or more than (1) b. */
export function compare(a: Quantity, b: Quantity): -1 | 0 | 1 {
  sameDimension(a, b.unit);
  const order = a.unit === b.unit ? numberOf(a).compare(numberOf(b)) : baseOf(a).compare(baseOf(b));
  return order < 0 ? -1 : order > 0 ? 1 : 0;
}

/** Whether min ≤ q ≤ max; both limits belong to the range; null is no limit. */
export function isWithin(q: Quantity, min: Quantity | null, max: Quantity | null): boolean {
  return (min === null || compare(q, min) >= 0) && (max === null || compare(q, max) <= 0);
}

/**
 * q + difference in the unit of q. The second is a difference: 50 degC + 9 degF is 55 degC. Exact where the result
 * ends as a decimal, else rounded to 60 decimals.
 */
export function add(q: Quantity, difference: Quantity): Quantity {
  return exactly(numberOf(q).add(differenceIn(difference, q.unit)), q.unit);
}

/** q − difference in the unit of q; see `add`. */
export function subtract(q: Quantity, difference: Quantity): Quantity {
  return exactly(numberOf(q).sub(differenceIn(difference, q.unit)), q.unit);
}

/** q × factor in the unit of q, exact. The factor is a plain decimal or a number, taken as its shortest decimal. */
export function times(q: Quantity, factor: string | number): Quantity {
  return exactly(numberOf(q).mul(typeof factor === 'number' ? decimalOf(factor) : factor), q.unit);
}

export type Rounding = { readonly decimals: number } | { readonly significant: number };

/**
 * q in another unit of its dimension, rounded half away from zero (2.5 → 3, −2.5 → −3) to so many decimals or
 * significant digits, with trailing zeros.
 */
export function inUnit(q: Quantity, unit: string, rounding: Rounding): Quantity {
  return inRounding(convert(q, unit), unit, rounding);
}

/** q in the base unit of its dimension (see `UnitDefinition`), exact: what conformity reckons with. */
export function sizeOf(q: Quantity): Fraction {
  return baseOf(q);
}

/** A difference in the base unit of its dimension, exact: 9 degF is 5 K. */
export function differenceSizeOf(difference: Quantity): Fraction {
  return numberOf(difference).mul(definitionOf(difference.unit).factor);
}

/** A size in the base unit as a quantity in a unit of that dimension, rounded as `inUnit` rounds. */
export function fromSize(size: Fraction, unit: string, rounding: Rounding): Quantity {
  const { factor, offset } = definitionOf(unit);
  return inRounding(size.div(factor).sub(offset), unit, rounding);
}

/** The same of a difference: 5 K is 9 degF. */
export function fromDifferenceSize(size: Fraction, unit: string, rounding: Rounding): Quantity {
  return inRounding(size.div(definitionOf(unit).factor), unit, rounding);
}

/** q as a double in the given unit, for physics that has roots and π in it. Not for comparisons. */
export function numberIn(q: Quantity, unit: string): number {
  return convert(q, unit).valueOf();
}

function inRounding(number: Fraction, unit: string, rounding: Rounding): Quantity {
  const decimals = 'decimals' in rounding ? rounding.decimals : decimalsFor(number, rounding.significant);
  return { value: rounded(number, decimals), unit };
}

function convert(q: Quantity, unit: string): Fraction {
  sameDimension(q, unit);
  if (q.unit === unit) return numberOf(q);
  const { factor, offset } = definitionOf(unit);
  return baseOf(q).div(factor).sub(offset);
}

function baseOf(q: Quantity): Fraction {
  const { factor, offset } = definitionOf(q.unit);
  return numberOf(q).add(offset).mul(factor);
}

function differenceIn(difference: Quantity, unit: string): Fraction {
  sameDimension(difference, unit);
  const number = numberOf(difference);
  return difference.unit === unit
    ? number
    : number.mul(definitionOf(difference.unit).factor).div(definitionOf(unit).factor);
}

function numberOf({ value }: Quantity): Fraction {
  const read = /^(-?\d+)(?:\.(\d+))?$/.exec(value);
  if (read === null) throw new RangeError(`${JSON.stringify(value)} is not a plain decimal`);
  const [, whole, decimals = ''] = read;
  return new Fraction(BigInt(`${whole}${decimals}`), 10n ** BigInt(decimals.length));
}

function sameDimension(q: Quantity, unit: string): void {
  const [one, other] = [definitionOf(q.unit).dimension, definitionOf(unit).dimension];
  if (one !== other) throw new RangeError(`${q.unit} measures ${one} and ${unit} measures ${other}`);
}

function exactly(number: Fraction, unit: string): Quantity {
  let decimals = 0;
  while (10n ** BigInt(decimals) % number.d !== 0n && decimals < mostDecimals) decimals += 1;
  return { value: rounded(number, decimals), unit };
}

/** How many decimals leave so many significant digits once rounded; negative where whole digits are rounded away. */
function decimalsFor(number: Fraction, significant: number): number {
  const ten = new Fraction(10);
  let decimals = significant - 1;
  const most = ten.pow(significant);
  const least = ten.pow(significant - 1);
  const scaled = (): Fraction => new Fraction(rounded(number.mul(ten.pow(decimals)), 0)).abs();
  while (scaled().gte(most)) decimals -= 1;
  while (number.n !== 0n && scaled().lt(least)) decimals += 1;
  return decimals;
}

/** A plain decimal with so many decimals; a negative count rounds to tens, hundreds and so on. */
function rounded(number: Fraction, decimals: number): string {
  const { n, d } = number.mul(new Fraction(10).pow(decimals)).abs();
  const whole = (2n * n + d) / (2n * d);
  const sign = number.s < 0n && whole !== 0n ? '-' : '';
  if (decimals <= 0) return `${sign}${whole * 10n ** BigInt(-decimals)}`;
  const digits = whole.toString().padStart(decimals + 1, '0');
  return `${sign}${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
}
