import { lastCheck } from '../judge/evidence.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const checkFailed: Rule = {
  id: 'check-failed',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'No check has failed.',
  basis: 'A unit that failed a check is made good and checked again before it ships.',
  clears: 'a later record in which the check is passed, or a concession',
  check: (judged) =>
    judged.record.checks.flatMap((one, index) =>
      one.result === 'failed' && lastCheck(judged, one.check) === one
        ? [
            {
              pointer: `/checks/${index}/result`,
              expected: 'passed',
              found: 'failed',
              because: `${one.check} failed${one.reason === undefined ? '' : `: ${one.reason}`}.`,
              clearedBy: [{ kind: 'check', place: one.check }, concession(judged)],
            },
          ]
        : [],
    ),
};
