import type { Case } from '../judge/case.ts';
import { benchWork, type Rule, type RuleOn } from './rule.ts';

/** On whatever has a reference. */
export const referenceUsed: RuleOn<Pick<Case, 'referenceUsedBy'>> & Pick<Rule, 'kinds'> = {
  id: 'reference-used',
  severity: 'refuse',
  kinds: benchWork,
  sentence: "The shop's reference belongs to one record of its kind.",
  basis: 'The reference is how a shop finds its own record again; two records under one would be one too many.',
  clears: null,
  check: ({ referenceUsedBy }) =>
    referenceUsedBy === null
      ? []
      : [
          {
            pointer: '/reference',
            found: referenceUsedBy,
            because: `Record ${referenceUsedBy} has this reference already.`,
          },
        ],
};
