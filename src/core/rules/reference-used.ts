import { benchWork, type Rule } from './rule.ts';

export const referenceUsed: Rule = {
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
