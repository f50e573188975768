/** What part of a cost a limit covers, exactly, where what it is reckoned from may be known only within limits itself. */
import Fraction from 'fraction.js';
import { fromSize } from '../quantity/exact.ts';

/** From 0 to 1, the least and the most that it can be. */
export type Share = { readonly least: Fraction; readonly most: Fraction };
export const covers = ['within', 'pro-rata', 'exceeded', 'unknown'] as const;
export type Cover = (typeof covers)[number];

export const anyShare: Share = { least: new Fraction(0), most: new Fraction(1) };

/**
 * Whole up to and with `full`; then (end − at) / (end − full), down to nothing at `end`. Without an end nothing at once.
 * All three in one unit. It falls evenly: common practice, no published source.
 */
export function shareAt(at: Fraction, full: Fraction, end: Fraction | null): Fraction {
  if (at.lte(full)) return new Fraction(1);
  if (end === null || at.gte(end)) return new Fraction(0);
  return end.sub(at).div(end.sub(full));
}

/** All limits must hold: what is left is the least of them. */
export function leastOf(shares: readonly Share[]): Share {
  return shares.reduce(
    (a, b) => ({
      least: a.least.lt(b.least) ? a.least : b.least,
      most: a.most.lt(b.most) ? a.most : b.most,
    }),
    { least: new Fraction(1), most: new Fraction(1) },
  );
}

/** What can be said of it: unknown where it could be one or another. */
export function coverOf({ least, most }: Share): Cover {
  if (least.equals(1)) return 'within';
  if (most.equals(0)) return 'exceeded';
  return least.gt(0) && most.lt(1) ? 'pro-rata' : 'unknown';
}

/** In %, with one decimal. */
export function inPercent({ least, most }: Share): { readonly least: string; readonly most: string } {
  const percent = (share: Fraction) => fromSize(share, '%', { decimals: 1 }).value;
  return { least: percent(least), most: percent(most) };
}
