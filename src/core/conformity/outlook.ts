/** What an instrument can decide of a requirement, told before the work. */
import { fromSize, sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Range } from '../quantity/range.ts';
import type { Instrument } from './accuracy.ts';
import { type Assessment, assess } from './assess.ts';
import type { DecisionRule } from './decision-rule.ts';

/** `at` is the reading that it was reckoned for: the middle between the limits, or the only limit. */
export type Outlook = Pick<Assessment, 'canConform' | 'fitness' | 'standardUncertainty' | 'guardBand' | 'basis'> & {
  readonly at: Quantity;
};

/**
 * Null where there is no limit: nothing is decided then. Whether there is a reading that the instrument could accept is
 * told exactly by the middle where its uncertainty is a part of the reading throughout, or one size throughout.
 */
export function outlookOf(
  range: Range,
  rule: DecisionRule,
  instrument: Instrument,
  highest?: Quantity | undefined,
): Outlook | null {
  const at = middleOf(range);
  if (at === null) return null;
  const assessed = assess({ reading: at, range, rule, highest }, instrument);
  const { canConform, fitness, standardUncertainty, guardBand, basis } = assessed;
  return { at, canConform, fitness, standardUncertainty, guardBand, basis };
}

function middleOf({ min, max }: Range): Quantity | null {
  const only = min ?? max;
  if (only === null || min === null || max === null)
    return only === null ? null : { value: only.value, unit: only.unit };
  const { value, unit } = fromSize(sizeOf(min).add(sizeOf(max)).div(2), min.unit, { decimals: mostDecimals });
  return { value: value.replace(/\.?0+$/, ''), unit };
}

/** More than the middle of two limits has, unless they are in units that don't end in each other. */
const mostDecimals = 30;
