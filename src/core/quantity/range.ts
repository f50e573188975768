/** What a requirement of an edition allows, as two limits. */
import { add, compare, subtract, times } from './exact.ts';
import type { Quantity } from './quantity.ts';

/** Both limits belong to the range; null is no limit. */
export type Range = { min: Quantity | null; max: Quantity | null };

/**
 * As an edition writes it, in any of these forms: `{target, tolerance}`, `{min, max}`, one limit alone, or both forms
 * together, when both hold. A tolerance in % is of the target's number as written, except that of a target that is
 * itself in %, which is in points. An angle (tighten to the target, then turn) sets no limit here.
 */
export type Requirement = {
  readonly target?: Quantity | undefined;
  readonly tolerance?: Quantity | undefined;
  readonly min?: Quantity | undefined;
  readonly max?: Quantity | undefined;
  readonly angle?: Quantity | undefined;
};

/**
 * The limits of a requirement, exact: 61 N·m ± 4 % is 58.56 to 63.44 N·m. A target without tolerance sets no limit,
 * because no reading meets a bare number. The sign of a tolerance doesn't matter.
 */
export function rangeOf({ target, tolerance, min, max }: Requirement): Range {
  const limits = { min: min ?? null, max: max ?? null };
  if (target === undefined || tolerance === undefined) return limits;
  const [one, other] = around(target, differenceOf(target, tolerance));
  return tighten(limits, compare(one, other) <= 0 ? { min: one, max: other } : { min: other, max: one });
}

/** What two ranges allow together: the higher min, the lower max. May be empty: see `isEmpty`. */
export function tighten(a: Range, b: Range): Range {
  return { min: pick(a.min, b.min, 1), max: pick(a.max, b.max, -1) };
}

/** Whether no value is in the range. */
export function isEmpty({ min, max }: Range): boolean {
  return min !== null && max !== null && compare(min, max) > 0;
}

function around(target: Quantity, difference: Quantity): [Quantity, Quantity] {
  return [subtract(target, difference), add(target, difference)];
}

function differenceOf(target: Quantity, tolerance: Quantity): Quantity {
  if (tolerance.unit !== '%' || target.unit === '%') return tolerance;
  return times(times(target, tolerance.value), '0.01');
}

function pick(a: Quantity | null, b: Quantity | null, wanted: 1 | -1): Quantity | null {
  if (a === null || b === null) return a ?? b;
  return compare(b, a) === wanted ? b : a;
}
