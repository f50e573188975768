import type { Case } from '../judge/case.ts';
import { independentChecks } from '../judge/doings.ts';
import { isUnknown } from '../records/parts.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const inspectedByFitter: Rule = {
  id: 'inspected-by-fitter',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A check that the edition leaves to somebody else is not made by who fitted, sealed or closed joints.',
  basis:
    'Nobody sees his own slip; common practice, no published source. Where one of the two is not known, nobody can say that they are two.',
  clears: 'a later record in which the check is passed, or a concession',
  check: (judged) =>
    independentChecks(judged).flatMap(({ at, check }) => {
      const by = check.by ?? judged.record.technician;
      const same = whetherFitter(by, fittersOf(judged));
      if (same === 'no') return [];
      return [
        {
          pointer: check.by === undefined ? `/checks/${at}` : `/checks/${at}/by`,
          expected: 'other than who did the work',
          found: same === 'yes' ? 'who did the work' : 'not known',
          because:
            same === 'yes'
              ? `${check.check} was answered by somebody who did this work.`
              : `It is not known whether ${check.check} was answered by somebody else than who did this work.`,
          clearedBy: [{ kind: 'check' as const, place: check.check }, concession(judged)],
        },
      ];
    }),
};

type Doer = Case['record']['technician'];

/** Also who closed a joint that another closed again. */
function fittersOf({ record }: Case): Doer[] {
  return [...record.fitted, ...record.seals, ...record.torques].map((one) => one.by ?? record.technician);
}

function whetherFitter(by: Doer, fitters: readonly Doer[]): 'yes' | 'no' | 'unknown' {
  if (fitters.length === 0) return 'no';
  if (isUnknown(by)) return 'unknown';
  if (fitters.includes(by)) return 'yes';
  return fitters.some(isUnknown) ? 'unknown' : 'no';
}
