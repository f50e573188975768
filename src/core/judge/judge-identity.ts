/** What follows from saying which unit is which: for the units themselves. */
import type { Effect, UnitEffect } from '../history/event.ts';
import type { UnitState } from '../history/fold.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Finding } from '../rules/finding.ts';
import { identityRules } from '../rules/identity-rules.ts';
import { findingsBy } from '../rules/rule.ts';
import type { IdentityCase } from './identity-case.ts';

export type JudgedIdentity =
  | { readonly refused: readonly Finding[] }
  | { readonly findings: readonly Finding[]; readonly effects: readonly UnitEffect[] };

export function judgeIdentity(judged: IdentityCase): JudgedIdentity {
  const findings = findingsBy(identityRules, judged);
  const refused = findings.filter((one) => one.severity === 'refuse');
  if (refused.length > 0) return { refused };
  return { findings, effects: effectsOf(judged, findings) };
}

function effectsOf(judged: IdentityCase, findings: readonly Finding[]): UnitEffect[] {
  if (judged.body.what === 'exchanged') return exchanged(judged, findings);
  if (judged.body.what === 'merged') return merged(judged);
  return [{ unit: judged.unit.state.unit, effect: {} }];
}

/**
 * The control that the records had on the pump is somewhere else, nobody knows where; the one found there is on it.
 * Who exchanged them has not said what else was done, so it is held until a look finds its function.
 */
function exchanged({ unit, other, otherPump }: IdentityCase, findings: readonly Finding[]): UnitEffect[] {
  const pump = unit.state.unit;
  const before = unit.state.mounted?.with ?? null;
  if (other === null) return [];
  const control = other.state.unit;
  const opens = findings.map(({ rule, pointer, clearedBy }) => ({
    rule,
    severity: 'hold' as const,
    pointer,
    clearedBy,
  }));
  const away = (from: string): Effect => ({ mounted: { with: from, on: false } });
  return [
    { unit: pump, effect: { mounted: { with: control, on: true } } },
    { unit: control, effect: { mounted: { with: pump, on: true }, opens } },
    ...(before === null ? [] : [{ unit: before, effect: away(pump) }]),
    ...(otherPump === null ? [] : [{ unit: otherPump, effect: away(control) }]),
  ];
}

/** The unit goes on under its name; of what the two hold, that counts which was recorded of later work. */
function merged({ unit, other }: IdentityCase): UnitEffect[] {
  if (other === null) return [];
  const [one, gone] = [unit.state, other.state];
  const counterpart = gone.mounted?.with ?? null;
  const moves = counterpart !== null && one.mounted === null;
  const effects: UnitEffect[] = [
    {
      unit: one.unit,
      effect: {
        ...(other.lastDone > unit.lastDone && lifeOf(gone)),
        ...(moves && { mounted: { with: counterpart, on: true } }),
        ...(moves && { settings: valuesOf(gone.settings) }),
        ...(moves && gone.circuit && { circuit: valuesOf(gone.circuit) }),
        ...(gone.open.length > 0 && { opens: gone.open.map(({ fact: _, ...finding }) => finding) }),
        merges: gone.unit,
      },
    },
    {
      unit: gone.unit,
      effect: { mergedInto: one.unit, ...(moves && { mounted: { with: counterpart, on: false } }) },
    },
  ];
  return moves ? [...effects, { unit: counterpart, effect: { mounted: { with: one.unit, on: true } } }] : effects;
}

function lifeOf({ stations, function: fun, builtFor }: UnitState): Effect {
  const found = Object.fromEntries(
    Object.entries(stations).map(([station, { elements, basis }]) => [station, { elements, basis }]),
  );
  return { found, function: fun, builtFor };
}

function valuesOf(known: UnitState['settings']): Record<string, Quantity> {
  return Object.fromEntries(Object.entries(known).map(([id, { value, unit }]) => [id, { value, unit }]));
}
