/** What a reading proves once a later calibration has shown how far the instrument had moved. */
import Fraction from 'fraction.js';
import { type Instant, microsecondsBetween } from '../time/instant.ts';
import { type Accuracy, accuracyAt, type Instrument } from './accuracy.ts';
import { type Asked, type Assessment, assessWith } from './assess.ts';
import { deviationBetween } from './deviation.ts';

/** What was known of the instrument as of a time: by the calibration made then, or by its type and class. */
export type Known = { readonly instrument: Instrument; readonly at: Instant };

/**
 * `linear`: as if the deviation had moved in a straight line from the earlier to the later one (held before and after),
 * with the larger of the two uncertainties. `worst`: the worst that any deviation between the two would say. That is at
 * one of the two: what conforms is an interval, and so is what doesn't lie outside.
 */
export type DriftAssessment = { readonly linear: Assessment; readonly worst: Assessment };

export function assessDrift(
  asked: Asked,
  { earlier, later, at }: { readonly earlier: Known; readonly later: Known; readonly at: Instant },
): DriftAssessment {
  const [before, after] = [accuracyAt(earlier.instrument, asked.reading), accuracyAt(later.instrument, asked.reading)];
  const deviation = deviationBetween(
    before.deviation,
    after.deviation,
    shareOf(earlier.at, later.at, at),
    asked.reading,
  );
  const linear = assessWith(asked, { ...lessSure(before, after), deviation });
  return { linear, worst: worse(assessWith(asked, before), assessWith(asked, after)) };
}

/** How far along from one time to the other, from 0 to 1; at the same time it is the later one that counts. */
function shareOf(from: Instant, to: Instant, at: Instant): Fraction {
  const [whole, part] = [microsecondsBetween(from, to), microsecondsBetween(from, at)];
  if (part >= whole) return new Fraction(1);
  return part <= 0n ? new Fraction(0) : new Fraction(part, whole);
}

function lessSure(one: Accuracy, other: Accuracy): Omit<Accuracy, 'deviation'> {
  if (one.variance === null || other.variance === null) return { variance: null, basis: null };
  return one.variance.compare(other.variance) > 0 ? one : other;
}

const badness = { conforms: 0, undecided: 1, outside: 2 } as const;

function worse(one: Assessment, other: Assessment): Assessment {
  const difference = badness[one.verdict] - badness[other.verdict];
  if (difference !== 0) return difference > 0 ? one : other;
  return (one.probability ?? 0) <= (other.probability ?? 0) ? one : other;
}
