/** The judgement on a disposition: what is decided about the holds of one record. */
import type { UnitEffect } from '../history/event.ts';
import type { UnitState } from '../history/fold.ts';
import { dispositionRules } from '../rules/disposition-rules.ts';
import { findingsBy } from '../rules/rule.ts';
import type { DispositionCase } from './disposition-case.ts';
import type { Judged } from './judge.ts';

export type Independence = 'proven' | 'unproven';

export function judgeDisposition(judged: DispositionCase): Judged & { readonly independence: Independence } {
  const findings = findingsBy(dispositionRules, judged);
  const independence =
    judged.doers.length > 0 && judged.doers.every((doer) => doer.subject !== null) ? 'proven' : 'unproven';
  const refused = findings.filter((one) => one.severity === 'refuse');
  if (refused.length > 0) return { refused, independence };
  return {
    judgement: {
      findings,
      verdicts: [],
      status: judged.body.decision === 'concession' ? 'released' : 'held',
      fit: {},
      function: null,
    },
    effects: judged.units.map((unit) => effectOn(unit, judged)),
    independence,
  };
}

/** A concession clears what is held; rework leaves it held until it is made good; scrap holds for good. */
function effectOn({ unit }: UnitState, { body, record, fact }: DispositionCase): UnitEffect {
  switch (body.decision) {
    case 'concession':
      return { unit, effect: { clears: [{ kind: 'disposition', place: record.id }] } };
    case 'rework':
      return { unit, effect: {} };
    case 'scrap':
      return {
        unit,
        effect: {
          opens: [
            {
              rule: 'scrapped',
              severity: 'hold',
              pointer: '/decision',
              clearedBy: [{ kind: 'correction', place: fact }],
            },
          ],
        },
      };
  }
}
