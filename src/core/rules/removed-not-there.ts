import { notKnown, without } from '../fit/fit.ts';
import { said } from './found-needed.ts';
import type { Rule } from './rule.ts';

export const removedNotThere: Rule = {
  id: 'removed-not-there',
  severity: 'refuse',
  kinds: ['conversion', 'mounting'],
  sentence: 'What is taken out of a station was found there.',
  basis: 'A record that finds one thing and takes out another contradicts itself.',
  clears: null,
  check: ({ record, found }) =>
    record.removed.flatMap(({ station, element, quantity }, index) => {
      const there = found[station] ?? notKnown;
      if (typeof element !== 'string' || there.elements === null || record.found?.stations?.[station] === undefined)
        return [];
      if (without([{ element, quantity }], there.elements).length === 0) return [];
      return [
        {
          pointer: `/removed/${index}`,
          expected: said(there),
          found: `${quantity} × ${element}`,
          because: `${station} was found to hold ${said(there)}.`,
        },
      ];
    }),
};
