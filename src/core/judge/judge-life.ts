/** What follows from a movement, a start-up or a retirement for the units. */
import type { Effect, UnitEffect } from '../history/event.ts';
import type { MovementBody, StartUpBody } from '../records/life-bodies.ts';
import type { Clear, Finding } from '../rules/finding.ts';
import { lifeRules } from '../rules/life-rules.ts';
import { findingsBy } from '../rules/rule.ts';
import { duesMeant, type LifeCase, type LifeUnit, unitsOf } from './life-case.ts';
import { circuitSettled, relationsAtStart } from './relations-at-hand.ts';

export type JudgedLife =
  | { readonly refused: readonly Finding[] }
  | { readonly findings: readonly Finding[]; readonly effects: readonly UnitEffect[] };

export function judgeLife(judged: LifeCase): JudgedLife {
  const findings = findingsBy(lifeRules, judged);
  const refused = findings.filter((one) => one.severity === 'refuse');
  if (refused.length > 0) return { refused };
  return {
    findings,
    effects: unitsOf(judged).map((unit) => ({ unit: unit.unit, effect: effectOn(unit, judged, findings) })),
  };
}

type HandingOver = Pick<MovementBody | StartUpBody, 'handedOver'>;

function effectOn(unit: LifeUnit, judged: LifeCase, findings: readonly Finding[]): Effect {
  const { record } = judged;
  const run = unit.hours === null ? {} : { hours: unit.hours };
  switch (record.kind) {
    case 'movement': {
      const custody = custodyAfter(record.body.what);
      const covers = unit.covers.length === 0 ? {} : { covers: unit.covers };
      return { ...(custody !== null && { custody, ...covers }), ...handedOver(unit, record.body), ...run };
    }
    case 'start-up': {
      const ofCircuit =
        unit.kind === 'control' && judged.other !== null ? circuitEffect(judged, record.body.circuit, findings) : {};
      return { ...ofCircuit, ...handedOver(unit, record.body), ...run };
    }
    case 'retirement':
      return { retired: true, ...run };
  }
}

/** Values of the circuit are the pair's, and kept with the control, as is what they break. */
function circuitEffect(judged: LifeCase, circuit: StartUpBody['circuit'], findings: readonly Finding[]): Effect {
  const opens = findings.flatMap(({ rule, severity, pointer, clearedBy }) =>
    severity === 'hold' ? [{ rule, severity, pointer, clearedBy }] : [],
  );
  const settled = circuitSettled(relationsAtStart(judged), circuit);
  const clears = settled.map((place): Clear => ({ kind: 'circuit', place }));
  return {
    ...(Object.keys(circuit).length > 0 && { circuit }),
    ...(opens.length > 0 && { opens }),
    ...(clears.length > 0 && { clears }),
  };
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
