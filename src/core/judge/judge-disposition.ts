/** The judgement on a disposition: what is decided about the holds of one record. */
import type { Concession } from '../history/concession.ts';
import type { OpenFinding, UnitEffect } from '../history/event.ts';
import type { UnitState } from '../history/fold.ts';
import type { DispositionBody } from '../records/disposition-body.ts';
import { dispositionRules } from '../rules/disposition-rules.ts';
import type { Finding } from '../rules/finding.ts';
import { concession, findingsBy } from '../rules/rule.ts';
import { parseTime } from '../time/instant.ts';
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
    effects: judged.units.map((unit) => effectOn(unit, judged, findings)),
    independence,
  };
}

/**
 * A concession clears what is held, or with limits or an end lets it be; rework leaves it held until it is made good, and
 * takes such a concession back; scrap holds for good.
 */
function effectOn(
  { unit, open }: UnitState,
  { body, record }: DispositionCase,
  findings: readonly Finding[],
): UnitEffect {
  const clear = concession({ fact: record.id });
  switch (body.decision) {
    case 'concession':
      if (body.limits === undefined && body.expires === undefined) return { unit, effect: { clears: [clear] } };
      return { unit, effect: { concedes: { clear, concession: concessionOf(body) } } };
    case 'rework': {
      const isConceded = open.some((one) => one.fact === record.id && one.concession !== undefined);
      return { unit, effect: isConceded ? { concedes: { clear, concession: null } } : {} };
    }
    case 'scrap':
      return { unit, effect: { opens: findings.flatMap(openOf) } };
  }
}

/** As it stands on the unit: the rule and what clears it. */
function openOf({ rule, severity, pointer, clearedBy }: Finding): OpenFinding[] {
  return severity === 'hold' ? [{ rule, severity, pointer, clearedBy }] : [];
}

/** Words stay in the record: a unit's events are for everybody. */
function concessionOf({ limits = [], expires }: DispositionBody): Concession {
  return {
    until: expires === undefined ? null : parseTime(expires).from,
    limits: limits.map((limit) => ('text' in limit ? { inWords: true } : limit)),
  };
}
