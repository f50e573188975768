/** What one reading proves of one requirement, as JSON that a record can keep. */
import type { Quantity } from '../quantity/quantity.ts';
import type { Range } from '../quantity/range.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { type Accuracy, accuracyAt, type Basis, estimateThrough, type Instrument } from './accuracy.ts';
import { type Decision, decide, guardBandSquared, type Zone } from './decide.ts';
import type { DecisionRule } from './decision-rule.ts';
import { type Extension, estimateAsQuantity, rootOf, standardUncertaintyOf } from './estimate.ts';
import { type Fitness, fitnessOf } from './fitness.ts';
import { probabilityOf } from './probability.ts';

export type Asked = {
  readonly reading: Quantity;
  readonly range: Range;
  readonly rule: DecisionRule;
  /** The most that the instrument shows, where that is known. */
  readonly highest?: Quantity | undefined;
  /** Between the tool and the joint. */
  readonly extension?: Extension | undefined;
};

export type Assessment = {
  readonly rule: DecisionRule['name'];
  readonly verdict: Decision['verdict'];
  readonly zone: Zone | null;
  readonly canConform: boolean;
  /** What was there when the instrument showed the reading, as well as can be told, in the unit of the reading. */
  readonly estimate: Quantity;
  /** In the unit of the reading, to three significant digits; null: not known. */
  readonly standardUncertainty: Quantity | null;
  /** w, likewise; null: there is none, or it isn't known. */
  readonly guardBand: Quantity | null;
  /** Of conformity, between 0 and 1 to six decimals; null: not known. */
  readonly probability: number | null;
  readonly basis: Basis | null;
  readonly fitness: Fitness;
};

/** A reading in another dimension than the limits is within nothing; that the record is wrong there a rule says. */
export function assess(asked: Asked, instrument: Instrument): Assessment {
  return assessWith(asked, accuracyAt(instrument, asked.reading));
}

export function assessWith(asked: Asked, accuracy: Accuracy): Assessment {
  const { reading, range, rule, highest, extension } = asked;
  if (!isComparable(reading, range)) return withinNothing(asked);
  const estimate = estimateThrough(reading, accuracy, extension);
  const band = rule.name === 'simple' ? null : guardBandSquared(estimate, rule);
  const probability = probabilityOf(estimate, range);
  return {
    rule: rule.name,
    ...decide(estimate, range, rule),
    estimate: estimateAsQuantity(estimate, reading),
    standardUncertainty: standardUncertaintyOf(estimate),
    guardBand: band === null ? null : rootOf(band, reading.unit),
    probability: probability === null ? null : Math.round(probability * millionths) / millionths,
    basis: accuracy.basis,
    fitness: fitnessOf(estimate, range, reading, highest ?? null),
  };
}

/** More would pretend to know it; also no two machines differ so early. */
const millionths = 1_000_000;

function isComparable({ unit }: Quantity, { min, max }: Range): boolean {
  const limit = min ?? max;
  return limit === null || dimensionOf(limit.unit) === dimensionOf(unit);
}

function withinNothing({ reading, rule }: Asked): Assessment {
  return {
    ...{ rule: rule.name, verdict: 'outside', zone: null, canConform: false, estimate: reading },
    ...{ standardUncertainty: null, guardBand: null, probability: null, basis: null },
    fitness: { ratio: null, fit: null, partOfRange: null },
  };
}
