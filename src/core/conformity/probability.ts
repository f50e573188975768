import { sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Range } from '../quantity/range.ts';
import { decide } from './decide.ts';
import { doubleOf } from './double.ts';
import type { Estimate } from './estimate.ts';
import { normalCdf } from './normal.ts';

/**
 * The probability that what was measured lies within the limits, given the estimate: p = Φ((max − y)/u) − Φ((min −
 * y)/u) (JCGM 106:2012, 7, normal distribution, nothing known beforehand). Without uncertainty it is 1 or 0, limits
 * included. Null: the uncertainty isn't known.
 */
export function probabilityOf(estimate: Estimate, range: Range): number | null {
  const { variance } = estimate;
  if (variance === null) return null;
  if (variance.equals(0)) return decide(estimate, range, { name: 'simple' }).verdict === 'conforms' ? 1 : 0;
  const uncertainty = Math.sqrt(doubleOf(variance));
  const away = (limit: Quantity | null, none: number) =>
    limit === null ? none : doubleOf(sizeOf(limit).sub(estimate.size)) / uncertainty;
  const [low, high] = [away(range.min, Number.NEGATIVE_INFINITY), away(range.max, Number.POSITIVE_INFINITY)];
  // Above the mean the difference is taken of the upper tails: of two numbers near 1 it would lose all digits.
  return Math.max(0, low > 0 ? normalCdf(-low) - normalCdf(-high) : normalCdf(high) - normalCdf(low));
}
