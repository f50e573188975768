import { benchWork, type Rule } from './rule.ts';

export const beforeUnitExisted: Rule = {
  id: 'before-unit-existed',
  severity: 'refuse',
  kinds: ['registration', ...benchWork],
  sentence: 'No work is done on a unit before it was built.',
  basis: 'A unit exists from the day it was built, where that is known.',
  clears: null,
  check: ({ control, pump, performed }) =>
    [control, pump].flatMap((unit) => {
      const built = unit?.state.builtAt ?? null;
      if (unit === null || built === null || performed.to >= built) return [];
      return [
        {
          pointer: '/performedAt',
          expected: `not before ${built}`,
          found: performed.to,
          because: `${unit.name} was built on ${built}.`,
        },
      ];
    }),
};
