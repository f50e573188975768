/** The verdict on an estimate. Exact throughout: the unit in which somebody read changes nothing. */
import Fraction from 'fraction.js';
import { decimalOf } from '../quantity/decimal.ts';
import { sizeOf } from '../quantity/exact.ts';
import type { Range } from '../quantity/range.ts';
import { coverageFactor, type DecisionRule } from './decision-rule.ts';
import type { Estimate } from './estimate.ts';

/**
 * Where the estimate lies (ILAC-G8:09/2019, 4.2.3): within the limits by the guard band or more, within them by less,
 * outside by no more than it, outside by more. A place on an edge belongs to the better side. Null: a guard band is
 * asked for and the uncertainty isn't known.
 */
export type Zone = 'pass' | 'conditional-pass' | 'conditional-fail' | 'fail';

export type Verdict = 'conforms' | 'undecided' | 'outside';

/**
 * A pass conforms and a fail is outside. A conditional pass or fail is `undecided`: as well as can be told with this
 * instrument the limit is met, or missed, but not so that it could be relied on. Simple acceptance has no conditional
 * zones. `canConform` false: the guard band takes up more than there is between the limits, or isn't known, so whatever
 * this instrument reads, it can accept nothing; what it reads far outside is outside all the same.
 */
export type Decision = { readonly verdict: Verdict; readonly zone: Zone | null; readonly canConform: boolean };

export function decide(estimate: Estimate, range: Range, rule: DecisionRule): Decision {
  const band = guardBandSquared(estimate, rule);
  const margin = marginOf(estimate, range);
  if (margin === null) return { verdict: 'conforms', zone: 'pass', canConform: true };
  if (band === null) return { verdict: 'undecided', zone: null, canConform: false };
  const zone = zoneOf(margin, band);
  return { verdict: verdictOf[zone], zone, canConform: leavesRoom(range, band) };
}

/** w² in the base unit squared; 0 by simple acceptance; null: the uncertainty isn't known. */
export function guardBandSquared({ variance }: Estimate, rule: DecisionRule): Fraction | null {
  if (rule.name === 'simple' || rule.factor === 0) return new Fraction(0);
  return variance === null ? null : variance.mul(new Fraction(decimalOf(rule.factor)).mul(coverageFactor).pow(2));
}

const verdictOf = {
  pass: 'conforms',
  'conditional-pass': 'undecided',
  'conditional-fail': 'undecided',
  fail: 'outside',
} as const satisfies Record<Zone, Verdict>;

function zoneOf(margin: Fraction, bandSquared: Fraction): Zone {
  const isBeyondBand = margin.pow(2).compare(bandSquared);
  if (margin.compare(0) >= 0) return isBeyondBand >= 0 ? 'pass' : 'conditional-pass';
  return isBeyondBand > 0 ? 'fail' : 'conditional-fail';
}

/** How far the estimate lies within the nearer limit, negative outside; null: there is no limit. */
function marginOf({ size }: Estimate, { min, max }: Range): Fraction | null {
  const fromMin = min === null ? null : size.sub(sizeOf(min));
  const toMax = max === null ? null : sizeOf(max).sub(size);
  if (fromMin === null || toMax === null) return fromMin ?? toMax;
  return fromMin.compare(toMax) <= 0 ? fromMin : toMax;
}

/** 2w ≤ max − min, compared by squares. */
function leavesRoom({ min, max }: Range, bandSquared: Fraction): boolean {
  if (min === null || max === null) return true;
  const tolerance = sizeOf(max).sub(sizeOf(min));
  return tolerance.compare(0) >= 0 && tolerance.pow(2).compare(bandSquared.mul(4)) >= 0;
}
