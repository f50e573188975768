import { said } from './found-needed.ts';
import type { Rule } from './rule.ts';

export const twoInOneSeat: Rule = {
  id: 'two-in-one-seat',
  severity: 'refuse',
  kinds: ['registration', 'conversion', 'mounting', 'inspection'],
  sentence: 'A station holds no more pieces than it has room for.',
  basis: 'What was in a seat comes out before something else goes in: a removal is missing from the record.',
  clears: null,
  check: ({ layout, after }) =>
    layout.stations.flatMap(({ id, most }) => {
      const content = after[id];
      const pieces = (content?.elements ?? []).reduce((sum, held) => sum + held.quantity, 0);
      if (content === undefined || pieces <= most) return [];
      return [
        {
          pointer: '/fitted',
          expected: `at most ${most} at ${id}`,
          found: said(content),
          because: `${id} would hold ${said(content)}. Say what was taken out.`,
        },
      ];
    }),
};
