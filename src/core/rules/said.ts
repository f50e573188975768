/** What a station holds, and within what a value must lie, in words. */
import type { Held } from '../fit/fit.ts';
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
