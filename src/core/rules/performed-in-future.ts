import type { Case } from '../judge/case.ts';
import { addMicroseconds } from '../time/instant.ts';
import { benchWork, type Rule, type RuleOn } from './rule.ts';

/** A shop's clock may run ahead by so much. */
export const clockTolerance = 5 * 60 * 1_000_000;

/** On whatever has been done at some time. */
export const performedInFuture: RuleOn<Pick<Case, 'performed' | 'now'>> & Pick<Rule, 'kinds'> = {
  id: 'performed-in-future',
  severity: 'refuse',
  kinds: ['registration', ...benchWork],
  sentence: 'Work is recorded when it has been done.',
  basis: 'More than five minutes ahead is not a clock that runs fast but work not done yet.',
  clears: null,
  check: ({ performed, now }) =>
    performed.from <= addMicroseconds(now, clockTolerance)
      ? []
      : [
          {
            pointer: '/performedAt',
            expected: `not after ${now}`,
            found: performed.from,
            because: 'This lies in the future.',
          },
        ],
};
