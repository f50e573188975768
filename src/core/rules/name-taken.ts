import type { Rule } from './rule.ts';

export const nameTaken: Rule = {
  id: 'name-taken',
  severity: 'refuse',
  kinds: ['mounting'],
  sentence: 'A serial or tag leads to one unit.',
  basis: 'Where one plate is on two units, one of them is wrong: say which first.',
  clears: null,
  check: ({ tagTakenBy: taken = null }) =>
    taken === null ? [] : [{ pointer: '/tag', found: taken, because: `${taken} has this tag already. Use another.` }],
};
