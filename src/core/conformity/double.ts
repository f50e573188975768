import type Fraction from 'fraction.js';

/** Digits of a numerator or denominator that a double still takes, with room to spare. */
const mostBits = 900n;

/** An exact number as the nearest double, or nearly: sums of many measured values have longer terms than a double takes. */
export function doubleOf({ s, n, d }: Fraction): number {
  const excess = bitsOf(n > d ? n : d) - mostBits;
  const shift = excess > 0n ? excess : 0n;
  return (Number(s) * Number(n >> shift)) / Number(d >> shift);
}

function bitsOf(positive: bigint): bigint {
  return BigInt(positive.toString(16).length) * 4n;
}
