/** How true an instrument is at a reading, by the best that is known of it. */
import Fraction from 'fraction.js';
import type { Quantity } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { type CalibrationPoint, calibratedAt } from './calibration.ts';
import { type Deviation, noDeviation, referenceOf } from './deviation.ts';
import { type Estimate, type Extension, through } from './estimate.ts';
import {
  type ClassedInstrument,
  permissibleOfClass,
  permissibleOfTorqueTool,
  type TorqueTool,
} from './permissible-deviation.ts';
import { differenceAt, dispersion, rectangular, resolution } from './uncertainty.ts';

/** What is known of an instrument at the time of a reading; what isn't known is left out. */
export type Instrument = {
  /** Of the certificate that counts then. A declaration of conformance has none: state `permissible`. */
  readonly points?: readonly CalibrationPoint[] | undefined;
  /** As its owner or a declaration states it, in % of the reading or as a difference: counts before type and class. */
  readonly permissible?: Quantity | undefined;
  readonly torqueTool?: TorqueTool | undefined;
  readonly classed?: ClassedInstrument | undefined;
  /** The step of its scale or display. */
  readonly resolution?: Quantity | undefined;
  /** Of a tool that is set and clicks: the standard deviation of what arrives, in % of the reading or as a difference. */
  readonly dispersion?: Quantity | undefined;
};

/** What the uncertainty is taken from; null: nothing is known. */
export type Basis = 'calibration' | 'stated' | 'type-and-class';

export type Accuracy = {
  readonly deviation: Deviation;
  /** The standard uncertainty squared, in the base unit squared; null: not known. */
  readonly variance: Fraction | null;
  readonly basis: Basis | null;
};

/**
 * A certificate comes first, then a stated permissible deviation, then what type and class permit; permissible
 * deviations are rectangular. Resolution and dispersion come on top of each (variances of sources that have nothing to
 * do with each other add, GUM 5.1.2): what a certificate's uncertainty covers already isn't stated again. Alone they
 * are no uncertainty: nobody knows then how far off the instrument is.
 */
export function accuracyAt(instrument: Instrument, reading: Quantity): Accuracy {
  const calibrated = calibratedAt(instrument.points ?? [], reading);
  const onTop = ownVariance(instrument, reading);
  if (calibrated !== null)
    return { deviation: calibrated.deviation, variance: calibrated.variance?.add(onTop) ?? null, basis: 'calibration' };
  const permitted = permittedAt(instrument, reading);
  if (permitted === null) return { deviation: noDeviation, variance: null, basis: null };
  const variance = rectangular(permitted.halfWidth).add(onTop);
  return { deviation: noDeviation, variance, basis: permitted.basis };
}

/** What was there when the instrument showed the reading, and at the end of an extension where there is one. */
export function estimateThrough(reading: Quantity, accuracy: Accuracy, extension?: Extension): Estimate {
  const { deviation, variance } = accuracy;
  const estimate: Estimate = { size: referenceOf(reading, deviation), variance, unit: reading.unit };
  return extension === undefined ? estimate : through(estimate, extension);
}

/** What it may deviate by at a reading, as a difference in the base unit; null: nobody has said. */
export function permittedAt(
  { permissible, torqueTool, classed }: Instrument,
  reading: Quantity,
): { readonly halfWidth: Fraction; readonly basis: Basis } | null {
  const stated = permissible === undefined ? null : differenceAt(permissible, reading);
  if (stated !== null) return { halfWidth: stated, basis: 'stated' };
  const byClass =
    torqueTool !== undefined && dimensionOf(torqueTool.max.unit) === dimensionOf(reading.unit)
      ? differenceAt(permissibleOfTorqueTool(torqueTool), reading)
      : classed !== undefined && dimensionOf(classed.range.max.unit) === dimensionOf(reading.unit)
        ? permissibleOfClass(classed)
        : null;
  return byClass === null ? null : { halfWidth: byClass, basis: 'type-and-class' };
}

function ownVariance({ resolution: step, dispersion: spread }: Instrument, reading: Quantity): Fraction {
  const of = (difference: Quantity | undefined, variance: (size: Fraction) => Fraction) => {
    const size = difference === undefined ? null : differenceAt(difference, reading);
    return size === null ? new Fraction(0) : variance(size);
  };
  return of(step, resolution).add(of(spread, dispersion));
}
