import { benchWork, type Rule } from './rule.ts';

export const editionNotInEffect: Rule = {
  id: 'edition-not-in-effect',
  severity: 'refuse',
  kinds: ['registration', ...benchWork],
  sentence: 'The edition that the work names was in effect when the work was done.',
  basis: 'Work is judged by the edition it names; nobody can have worked to one that came later.',
  clears: null,
  check: ({ edition, performed }) => {
    const effective = `${edition.effectiveFrom}T00:00:00.000000Z`;
    if (performed.to >= effective) return [];
    return [
      {
        pointer: '/edition',
        expected: `in effect on ${performed.to}`,
        found: `in effect from ${edition.effectiveFrom}`,
        because: `Edition ${edition.edition} was not in effect yet. Name the one that was worked to.`,
      },
    ];
  },
};
