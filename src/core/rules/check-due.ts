import { lastCheck } from '../judge/evidence.ts';
import { benchWork, type Rule } from './rule.ts';

export const checkDue: Rule = {
  id: 'check-due',
  severity: 'due',
  kinds: benchWork,
  sentence: 'Every check that the edition requires of the work is done.',
  basis: 'The edition says which; leak, function and plate can only be checked on the pump.',
  clears: 'a later record in which the check is passed, or said not to apply and why',
  check: (judged) => {
    const { evidence, afterMounting } = judged.demanded;
    const due = (check: string, because: string) => ({
      pointer: '/checks',
      because,
      clearedBy: [
        { kind: 'check' as const, place: check },
        { kind: 'not-applicable' as const, place: check },
      ],
    });
    const open = evidence.checks.filter((id) => !isAnswered(lastCheck(judged, id)));
    return [
      ...open.map((id) => due(id, `${id} is required and not recorded as done.`)),
      ...afterMounting.checks.map((id) => due(id, `${id} is to be done once the control is on a pump.`)),
    ];
  },
};

/** Failed is answered too, by another rule; not applicable needs its reason. */
function isAnswered(check: ReturnType<typeof lastCheck>): boolean {
  if (check === undefined || check.result === 'not-done') return false;
  return check.result !== 'not-applicable' || check.reason !== undefined;
}
