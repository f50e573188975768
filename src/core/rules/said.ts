/** What a station holds, and within what a value must lie, in words. */

import type { Held } from '../fit/fit.ts';
import type { Verdict } from '../judge/evidence.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Range } from '../quantity/range.ts';

export function said(elements: readonly Held[]): string {
  if (elements.length === 0) return 'nothing';
  return elements.map(({ element, quantity }) => (quantity === 1 ? element : `${quantity} × ${element}`)).join(' and ');
}

export function saidRange({ min, max }: Range): string {
  if (min === null || max === null) return [atLeast(min), atMost(max)].join('');
  return min.unit === max.unit ? `${min.value} to ${quantity(max)}` : `${quantity(min)} to ${quantity(max)}`;
}

function atLeast(min: Quantity | null): string {
  return min === null ? '' : `at least ${quantity(min)}`;
}

function atMost(max: Quantity | null): string {
  return max === null ? '' : `at most ${quantity(max)}`;
}

function quantity({ value, unit }: Quantity): string {
  return `${value} ${unit}`;
}

/** What the reading was in truth, where a calibration tells; at worst, where a later one found the instrument wrong. */
export function saidEstimate({ reading, estimate, basis, foundBy, linear }: Verdict): string {
  if (basis !== 'calibration' || estimate.value === reading.value) return '';
  if (foundBy === null || linear === null) return `, by its calibration ${estimate.value} ${estimate.unit}`;
  return `, by what a later examination found at worst ${estimate.value} ${estimate.unit} and ${linear.estimate.value} ${linear.estimate.unit} had it drifted evenly`;
}
