import type { Rule } from './rule.ts';

export const contentAssumed: Rule = {
  id: 'content-assumed',
  severity: 'note',
  kinds: ['conversion', 'mounting', 'repair'],
  sentence: 'A station that nobody has looked into is said to be assumed.',
  basis: 'The records assume what the function has there; the job sheet asks for a look.',
  clears: null,
  check: ({ pattern, after }) =>
    Object.entries(pattern).flatMap(([station, demand]) =>
      demand !== 'keep' && after[station]?.basis === 'assumed'
        ? [{ pointer: '/found', because: `What ${station} holds is assumed, not seen.` }]
        : [],
    ),
};
