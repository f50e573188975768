/** The rules for records that are judged again, beside those for their kind. */
import type { Clear } from './finding.ts';
import type { RuleOn } from './rule.ts';

/** The record; names of the control that it was made of, and of the one that was on the pump by what is known now. */
export type JudgedAgain = { readonly record: string; readonly recorded: string; readonly now: string };

export const controlElsewhere: RuleOn<JudgedAgain> = {
  id: 'control-elsewhere',
  severity: 'hold',
  sentence: 'Work that names a pump was done on the control that was on it.',
  basis: 'A mounting came late, and by it another control was there: which one was worked on, only the bench can say.',
  clears: 'a correction of the record, or a concession',
  check: ({ record, recorded, now }) =>
    recorded === now
      ? []
      : [
          {
            pointer: '/pump',
            expected: now,
            found: recorded,
            because: `By the records ${now} was on this pump when the work was done, and it was recorded of ${recorded}. If it was done on ${now}, make it void and record it of that.`,
            clearedBy: ifHeld(record),
          },
        ],
};

/** What clears a record that can't follow from what came before any more. */
export function ifHeld(record: string): Clear[] {
  return [
    { kind: 'disposition', place: record },
    { kind: 'correction', place: record },
  ];
}

export const judgementRules: readonly RuleOn<JudgedAgain>[] = Object.freeze([controlElsewhere]);
