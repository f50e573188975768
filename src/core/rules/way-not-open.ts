import type { Rule } from './rule.ts';

export const wayNotOpen: Rule = {
  id: 'way-not-open',
  severity: 'refuse',
  kinds: ['conversion', 'mounting', 'repair', 'inspection'],
  sentence: 'A station that was opened or changed could be reached through what was opened.',
  basis: 'The catalogue lists every way into a station; its joints are broken on that way and no other.',
  clears: null,
  check: ({ demanded }) =>
    demanded.unreached.map((station) => ({
      pointer: '/opened',
      found: demanded.ways.opened.join(', '),
      because: `${station} can't be reached through what was opened. State every station that was opened, or leave "opened" out.`,
    })),
};
