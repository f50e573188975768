/** A record of a unit's life off the bench, beside what the records have. */
import type { Edition } from '../catalogue/edition.ts';
import type { UnitKind } from '../history/event.ts';
import type { StandingFinding } from '../history/fold.ts';
import type { DueRef, LifeRecord } from '../records/life-bodies.ts';
import type { Known, UnitAtHand } from './case.ts';

export type LifeUnit = Omit<UnitAtHand, 'whereabouts'> & {
  readonly kind: UnitKind;
  /** Of a movement that brings it in: the records of work that this says it was there for. */
  readonly covers: readonly string[];
};

export type LifeCase = {
  /** The id that this record gets when it is kept. */
  readonly fact: string;
  readonly record: LifeRecord;
  /** The unit that it is about: of a tagging, the control. */
  readonly unit: LifeUnit;
  /** What goes along with it: the control on this pump, or the pump under this control. */
  readonly other: LifeUnit | null;
  /** What the tag leads to already, where that is another unit. */
  readonly tagTakenBy: string | null;
  /** Whether the tag leads to the control already: it is told a second time. */
  readonly tagIsIts?: boolean;
  readonly referenceUsedBy: string | null;
  readonly afterIsKnown: boolean;
  /** Of a start-up: the edition that was the newest in effect; null: none was. */
  readonly edition: Edition | null;
  readonly known: Pick<Known, 'shops' | 'technicians' | 'attachments'>;
  readonly performed: { readonly from: string; readonly to: string };
  readonly now: string;
};

export function unitsOf({ unit, other }: Pick<LifeCase, 'unit' | 'other'>): readonly LifeUnit[] {
  return other === null ? [unit] : [unit, other];
}

/** What is open on a unit, as its own dues, and is meant by this. */
export function duesMeant(ref: DueRef, { state }: LifeUnit): readonly StandingFinding[] {
  const dues = state.open.filter((one) => one.severity === 'due');
  if ('rule' in ref) return dues.filter((one) => one.fact === ref.record && one.rule === ref.rule);
  const [kind, place] = 'check' in ref ? ['check', ref.check] : ['setting', ref.setting];
  return dues.filter((one) => one.clearedBy.some((clear) => clear.kind === kind && clear.place === place));
}
