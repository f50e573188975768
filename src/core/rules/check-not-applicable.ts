import { benchWork, type Rule } from './rule.ts';

export const checkNotApplicable: Rule = {
  id: 'check-not-applicable',
  severity: 'note',
  kinds: benchWork,
  sentence: 'A required check said not to apply is noted with its reason.',
  basis: 'The bench knows best, and the reason is there to be read later.',
  clears: null,
  check: ({ record, demanded }) =>
    record.checks.flatMap(({ check, result, reason }, index) =>
      result === 'not-applicable' && reason !== undefined && demanded.evidence.checks.includes(check)
        ? [{ pointer: `/checks/${index}`, found: reason, because: `${check} is said not to apply: ${reason}.` }]
        : [],
    ),
};
