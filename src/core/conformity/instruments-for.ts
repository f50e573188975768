/** Before the work: which of a shop's instruments can decide a requirement, and what speaks against the others. */

import { compare } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Range } from '../quantity/range.ts';
import { dimensionOf } from '../quantity/unit.ts';
import type { InstrumentBody } from '../records/stock-bodies.ts';
import type { Instant } from '../time/instant.ts';
import type { DecisionRule } from './decision-rule.ts';
import { type InstrumentEvent, standingAt } from './instrument-history.ts';
import { type Outlook, outlookOf } from './outlook.ts';

export type AskedBefore = {
  readonly of: 'torque' | 'setting';
  readonly range: Range;
  readonly rule: DecisionRule;
  /** Whether a reading of an instrument that nobody has calibrated would be held. */
  readonly calibrated: boolean;
};

/** An instrument with what has been stated of it over time. */
export type AtHand = {
  readonly instrument: string;
  readonly stated: InstrumentBody;
  readonly events: readonly InstrumentEvent[];
};

/** Each is what would hold a record: see the rules instrument-…, calibration-missing and cannot-decide. */
export const objections = ['overdue', 'under-suspicion', 'never-calibrated', 'out-of-range', 'cannot-decide'] as const;
export type Objection = (typeof objections)[number];

export type Prospect = {
  readonly instrument: string;
  readonly decides: boolean;
  readonly against: readonly Objection[];
  /** How much of what is allowed lies within its range. */
  readonly reaches: 'all' | 'part' | 'none';
  /** When its next calibration is due; null: not known. */
  readonly due: Instant | null;
  /** Reckoned for the reading `at`, the middle of the limits; nulls where nobody has said how true it is. */
  readonly at: Quantity;
  readonly uncertainty: Outlook['standardUncertainty'];
  readonly guardBand: Outlook['guardBand'];
  readonly basis: Outlook['basis'];
  readonly fitness: Outlook['fitness'];
};

/**
 * The instruments that measure this at all, those that can decide it first, the finest of them first. Empty where there
 * is no limit to decide on.
 * @param at the time of the work
 */
export function instrumentsFor(asked: AskedBefore, all: readonly AtHand[], at: Instant): Prospect[] {
  return all
    .flatMap((one) => {
      const prospect = measures(one.stated, asked) ? prospectOf(asked, one, at) : null;
      return prospect === null ? [] : [prospect];
    })
    .sort(
      (a, b) =>
        Number(b.decides) - Number(a.decides) ||
        (b.fitness.ratio ?? 0) - (a.fitness.ratio ?? 0) ||
        (a.instrument < b.instrument ? -1 : 1),
    );
}

/** A torque is taken with a torque wrench, a setting with a gauge or a stand whose range is of that quantity. */
function measures({ kind, range }: InstrumentBody, asked: AskedBefore): boolean {
  if ((kind === 'torque-wrench') !== (asked.of === 'torque')) return false;
  const limit = asked.range.min ?? asked.range.max;
  return range === undefined || limit === null || dimensionOf(range.max.unit) === dimensionOf(limit.unit);
}

function prospectOf(asked: AskedBefore, { instrument, stated, events }: AtHand, at: Instant): Prospect | null {
  const standing = standingAt(stated, events, at);
  const outlook = outlookOf(asked.range, asked.rule, standing.earlier.instrument, stated.range?.max);
  if (outlook === null) return null;
  const reaches = reachOf(stated, asked.range);
  const objected: Record<Objection, boolean> = {
    // What the shop says is on its way is due, and holds nothing.
    overdue: standing.overdue && stated.awaited === undefined,
    'under-suspicion': standing.suspect !== null,
    'never-calibrated': asked.calibrated && standing.neverCalibrated,
    'out-of-range': reaches === 'none',
    'cannot-decide': !outlook.canConform,
  };
  const against = objections.filter((one) => objected[one]);
  const { standardUncertainty: uncertainty, guardBand, basis, fitness } = outlook;
  return {
    ...{ instrument, decides: against.length === 0, against, reaches, due: standing.due },
    ...{ at: outlook.at, uncertainty, guardBand, basis, fitness },
  };
}

/** Of one limit alone it counts whether that can be read. */
function reachOf({ range }: InstrumentBody, { min, max }: Range): Prospect['reaches'] {
  if (range === undefined) return 'all';
  const isBelow = (a: Quantity | null, b: Quantity) => a !== null && compare(a, b) < 0;
  const isAbove = (a: Quantity | null, b: Quantity) => a !== null && compare(a, b) > 0;
  if (isBelow(max, range.min) || isAbove(min, range.max)) return 'none';
  const isWhole = [min, max].every(
    (limit) => limit === null || !(isBelow(limit, range.min) || isAbove(limit, range.max)),
  );
  return isWhole ? 'all' : 'part';
}
