/** The relations of the function that a record leaves, with what is known of their terms after it. */
import type { Fun, Size } from '../catalogue/edition.ts';
import { functionOf, pumpValueOf, sizeOf } from '../catalogue/lookup.ts';
import { knownSettings } from '../history/at-hand.ts';
import type { UnitState } from '../history/fold.ts';
import { type Evaluated, evaluate, type Relation } from '../physics/relation.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Case } from './case.ts';
import { staysOnPump } from './evidence.ts';
import { type LifeCase, unitsOf } from './life-case.ts';
import { settingsOfPair } from './settings-after.ts';

export type RelationAtHand = {
  readonly relation: Relation;
  readonly is: Evaluated;
  /** Values of the circuit that this record doesn't state: they are as stated before of the same pair. */
  readonly earlier: readonly string[];
};

type Values = Readonly<Record<string, Quantity | null>>;

/** Of a record on a pump that states settings or circuit values; others leave the relations as they were. */
export function relationsAtHand(judged: Case): readonly RelationAtHand[] {
  const { target, record, control, layout } = judged;
  const says = record.settings.length > 0 || Object.keys(record.circuit).length > 0;
  if (!says || !staysOnPump(judged) || target === null || 'refused' in target) return [];
  return relationsOf(target.function, layout.size, settingsOfPair(judged), record.circuit, control.state);
}

/** Of a start-up that states circuit values, with the settings that the pair has by then. */
export function relationsAtStart(judged: LifeCase): readonly RelationAtHand[] {
  const { record, edition } = judged;
  const states = unitsOf(judged).map(({ state }) => state);
  const control = states.find(({ born }) => born?.kind === 'control');
  const pump = states.find(({ born }) => born?.kind === 'pump');
  if (record.kind !== 'start-up' || edition === null) return [];
  if (control?.born?.kind !== 'control' || pump?.born?.kind !== 'pump') return [];
  const { circuit } = record.body;
  const fun = functionOf(edition, control.born.body, control.function ?? '');
  if (fun === null || Object.keys(circuit).length === 0) return [];
  const size = sizeOf(edition, pump.born.series, pump.born.size);
  return relationsOf(fun, size, knownSettings(control), circuit, control);
}

/** Of what is stated now, that with which every relation holds that it stands in. */
export function circuitSettled(relations: readonly RelationAtHand[], stated: Values): string[] {
  return Object.keys(stated).filter((name) => {
    const own = relations.filter(({ relation }) => circuitIn(relation).includes(name));
    return own.length > 0 && own.every(({ is }) => 'broken' in is && is.broken === null);
  });
}

function relationsOf(
  fun: Fun,
  size: Size | null,
  settings: Values,
  stated: Values,
  { circuit: earlier = {} }: UnitState,
): readonly RelationAtHand[] {
  const known = (name: string) => stated[name] ?? earlier[name] ?? null;
  return fun.relations.map((relation) => ({
    relation,
    is: evaluate(relation, (term) => {
      if ('setting' in term) return settings[term.setting] ?? null;
      if ('circuit' in term) return known(term.circuit);
      if ('pump' in term) return size && pumpValueOf(size, term.pump);
      return { value: term.value, unit: term.unit };
    }),
    earlier: circuitIn(relation).filter((name) => !Object.hasOwn(stated, name) && known(name) !== null),
  }));
}

function circuitIn({ sum }: Relation): string[] {
  return sum.flatMap((term) => ('circuit' in term ? [term.circuit] : []));
}
