import { isNotTakenIn } from './intake-unknown.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const intakeMissing: Rule = {
  id: 'intake-missing',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Where the edition demands it, every lot that is used was taken in at the shop that uses it.',
  basis: 'The maker asks for it: without it nobody can say whether a lot is used up, or was ever there.',
  clears: 'an intake of the lot, recorded however late; or a concession',
  check: (judged) =>
    judged.edition.demands?.intakes !== true
      ? []
      : isNotTakenIn(judged).map((one) => ({
          ...one,
          clearedBy: [{ kind: 'intake' as const, place: one.found }, concession(judged)],
        })),
};
