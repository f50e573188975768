/** What follows from a movement, a start-up or a retirement for the units. */
import type { Effect, UnitEffect } from '../history/event.ts';
import type { MovementBody, StartUpBody } from '../records/life-bodies.ts';
import type { Finding } from '../rules/finding.ts';
import { lifeRules } from '../rules/life-rules.ts';
import { findingsBy } from '../rules/rule.ts';
import { duesMeant, type LifeCase, type LifeUnit, unitsOf } from './life-case.ts';

export type JudgedLife =
  | { readonly refused: readonly Finding[] }
  | { readonly findings: readonly Finding[]; readonly effects: readonly UnitEffect[] };

export function judgeLife(judged: LifeCase): JudgedLife {
  const findings = findingsBy(lifeRules, judged);
  const refused = findings.filter((one) => one.severity === 'refuse');
  if (refused.length > 0) return { refused };
  return { findings, effects: unitsOf(judged).map((unit) => ({ unit: unit.unit, effect: effectOn(unit, judged) })) };
}

type HandingOver = Pick<MovementBody | StartUpBody, 'handedOver'>;

function effectOn(unit: LifeUnit, { record }: LifeCase): Effect {
  const run = unit.hours === null ? {} : { hours: unit.hours };
  switch (record.kind) {
    case 'movement': {
      const custody = custodyAfter(record.body.what);
      const covers = unit.covers.length === 0 ? {} : { covers: unit.covers };
      return { ...(custody !== null && { custody, ...covers }), ...handedOver(unit, record.body), ...run };
    }
    case 'start-up':
      return { ...handedOver(unit, record.body), ...run };
    case 'retirement':
      return { retired: true, ...run };
  }
}

/** The dues of this unit that somebody has taken over, each once. */
function handedOver(unit: LifeUnit, { handedOver: handed }: HandingOver): Pick<Effect, 'handsOver'> {
  const dues = (handed?.dues ?? []).flatMap((ref) => duesMeant(ref, unit));
  const handsOver = [...new Set(dues)].flatMap(({ fact, clearedBy }) =>
    clearedBy.slice(0, 1).map((clear) => ({ fact, clear })),
  );
  return handsOver.length > 0 ? { handsOver } : {};
}

/** Null where it says nothing of that. */
export function custodyAfter(what: 'received' | 'delivered' | 'lent' | 'returned' | 'tagged'): 'in' | 'out' | null {
  if (what === 'tagged') return null;
  return what === 'received' || what === 'returned' ? 'in' : 'out';
}
