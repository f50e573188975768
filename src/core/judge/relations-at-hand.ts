/** The relations of the function that a record leaves, with what is known of their terms after it. */
import { pumpValueOf } from '../catalogue/lookup.ts';
import { knownSettings } from '../history/at-hand.ts';
import { type Evaluated, evaluate, type KnownTerm, type Relation } from '../physics/relation.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Case } from './case.ts';
import { settingsAfter } from './effects.ts';
import { staysOnPump } from './evidence.ts';

/** Of a record on a pump that states settings or circuit values; others leave the relations as they were. */
export function relationsAtHand(judged: Case): readonly { readonly relation: Relation; readonly is: Evaluated }[] {
  const { target, record } = judged;
  const says = record.settings.length > 0 || Object.keys(record.circuit).length > 0;
  if (!says || !staysOnPump(judged) || target === null || 'refused' in target) return [];
  const known = valuesOf(judged);
  return target.function.relations.map((relation) => ({ relation, is: evaluate(relation, known) }));
}

/** Settings of the pair as the record leaves them; null where they are disturbed and not read again. */
export function settingsOfPair(judged: Case): Readonly<Record<string, Quantity | null>> {
  return { ...knownSettings(judged.control.state), ...settingsAfter(judged) };
}

function valuesOf(judged: Case): KnownTerm {
  const settings = settingsOfPair(judged);
  const circuit = new Map(Object.entries(judged.record.circuit));
  const { size } = judged.layout;
  return (term) => {
    if ('setting' in term) return settings[term.setting] ?? null;
    if ('circuit' in term) return circuit.get(term.circuit) ?? null;
    if ('pump' in term) return size && pumpValueOf(size, term.pump);
    return { value: term.value, unit: term.unit };
  };
}
