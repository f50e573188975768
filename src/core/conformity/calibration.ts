/** What a calibration certificate says of a reading between, or beyond, the points that were calibrated. */
import type Fraction from 'fraction.js';
import { differenceSizeOf, sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { type Deviation, deviationBetween } from './deviation.ts';
import { differenceAt } from './uncertainty.ts';

/**
 * One point of a certificate. `indicated` is what the instrument showed or was set to; `deviation` is (indicated −
 * reference)/reference in %, or indicated − reference as a difference; `uncertainty` is the expanded one, in % of the
 * reading or as a difference, with its coverage factor k, a decimal above 0; null: nobody has stated it, as of a check
 * on the shop's own checker.
 */
export type CalibrationPoint = {
  readonly indicated: Quantity;
  readonly deviation: Quantity;
  readonly uncertainty: Quantity | null;
  readonly coverageFactor: string;
};

/** `variance` null: how far off it is was found, how sure that is was not stated. */
export type Calibrated = { readonly deviation: Deviation; readonly variance: Fraction | null };

/**
 * Deviation and variance at a reading: between two points both are interpolated in a straight line (the uncertainty as
 * u, not as its square); beyond the outermost point its deviation holds on, and of it and its neighbour the larger
 * uncertainty; where that of either isn't known, neither is the variance. Null where there is no point, or where one
 * means nothing for the reading: another dimension, a part of a temperature, a deviation of −100 % or less.
 */
export function calibratedAt(points: readonly CalibrationPoint[], reading: Quantity): Calibrated | null {
  const known = points.map((point) => pointAt(point, reading)).filter((point) => point !== null);
  if (known.length < points.length) return null;
  const sorted = known.sort((a, b) => a.at.compare(b.at));
  const at = sizeOf(reading);
  const lower = sorted.findLast((point) => point.at.compare(at) <= 0);
  const upper = sorted.find((point) => point.at.compare(at) >= 0);
  const found =
    lower !== undefined && upper !== undefined
      ? between(lower, upper, at, reading)
      : beyond(lower === undefined ? sorted : sorted.toReversed());
  return found === null ? null : { deviation: found.deviation, variance: found.uncertainty?.pow(2) ?? null };
}

/** A point with its deviation and standard uncertainty as they are at the reading. */
type Point = { readonly at: Fraction; readonly deviation: Deviation; readonly uncertainty: Fraction | null };

function pointAt(
  { indicated, deviation, uncertainty, coverageFactor }: CalibrationPoint,
  reading: Quantity,
): Point | null {
  if (dimensionOf(indicated.unit) !== dimensionOf(reading.unit)) return null;
  const off = differenceAt(deviation, reading);
  const spread = uncertainty === null ? null : differenceAt(uncertainty, reading);
  if (off === null || (spread === null && uncertainty !== null)) return null;
  const isRelative = dimensionOf(deviation.unit) !== dimensionOf(reading.unit);
  // What shows nothing whatever is there says nothing of what was there.
  if (isRelative && differenceSizeOf(deviation).compare(-1) <= 0) return null;
  return {
    at: sizeOf(indicated),
    deviation: isRelative ? { relative: differenceSizeOf(deviation) } : { absolute: off },
    uncertainty: spread === null ? null : spread.div(coverageFactor),
  };
}

/** Where a point was calibrated twice, its larger uncertainty counts: not known is larger than any. */
function between(lower: Point, upper: Point, at: Fraction, reading: Quantity): Point {
  const gap = upper.at.sub(lower.at);
  if (gap.equals(0)) return larger(lower, upper);
  const share = at.sub(lower.at).div(gap);
  const deviation = deviationBetween(lower.deviation, upper.deviation, share, reading);
  if (lower.uncertainty === null || upper.uncertainty === null) return { at, deviation, uncertainty: null };
  const uncertainty = lower.uncertainty.add(upper.uncertainty.sub(lower.uncertainty).mul(share));
  return { at, deviation, uncertainty };
}

function beyond([nearest, neighbour]: readonly Point[]): Point | null {
  if (nearest === undefined) return null;
  return { ...nearest, uncertainty: larger(nearest, neighbour ?? nearest).uncertainty };
}

function larger(one: Point, other: Point): Point {
  if (one.uncertainty === null || other.uncertainty === null) return one.uncertainty === null ? one : other;
  return one.uncertainty.compare(other.uncertainty) >= 0 ? one : other;
}
