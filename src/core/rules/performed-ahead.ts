import { addMicroseconds } from '../time/instant.ts';
import { clockTolerance } from './performed-in-future.ts';
import { benchWork, type Rule } from './rule.ts';

export const performedAhead: Rule = {
  id: 'performed-ahead',
  severity: 'note',
  kinds: ['registration', ...benchWork],
  sentence: 'A time of work a little ahead of the service is noted.',
  basis: "Shops' clocks run fast by a minute or two; the order of work is then as recorded.",
  clears: null,
  check: ({ performed, now }) =>
    performed.from > now && performed.from <= addMicroseconds(now, clockTolerance)
      ? [
          {
            pointer: '/performedAt',
            expected: `not after ${now}`,
            found: performed.from,
            because: "The shop's clock is ahead of the service's.",
          },
        ]
      : [],
};
