/** What a record does to its units once it is judged again, beside what it did to them. */
import { effectiveEvents, placeAmong } from '../../core/history/effective-events.ts';
import type { Effect, Placed, UnitEffect, UnitEvent } from '../../core/history/event.ts';
import { canonical } from '../../core/log/canonical.ts';
import type { Finding } from '../../core/rules/finding.ts';
import { ifHeld } from '../../core/rules/judgement-rules.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import type { WorkUnits } from '../derived/part-use-rows.ts';
import type { Decision } from '../recording/draft.ts';
import type { Loaded } from '../recording/loaded.ts';

/** A record on the units that it touched, and on those that it turned out to. */
export type OnUnits = {
  /** As it was recorded. */
  readonly own: readonly UnitEvent[];
  /** As it counts by now. */
  readonly now: readonly UnitEvent[];
  /** Units that it touched, or was once thought to. */
  readonly units: readonly string[];
  /** Its place on units that it didn't touch itself. */
  readonly placed: Placed | null;
};

export function onUnits(record: string, kind: string, { events }: Loaded): OnUnits {
  const chains = [...events.values()];
  const own = chains.flat().filter((event) => event.fact === record);
  const again = chains.flat().filter((event) => event.effect.judges === record);
  const now = chains.flatMap(effectiveEvents).filter((event) => event.fact === record);
  return { own, now, units: [...new Set([...own, ...again].map(({ unit }) => unit))], placed: placeOn(kind, now) };
}

function placeOn(kind: string, [event]: readonly UnitEvent[]): Placed | null {
  if (event === undefined) return null;
  const { performedFrom, performedTo, recordedAt, after } = event;
  return { kind, performedFrom, performedTo, recordedAt, after };
}

/** So that it finds the place that it would have had also on a unit that knows nothing of it yet. */
export function inItsPlace({ placed }: OnUnits, loaded: Loaded): Loaded {
  if (placed === null) return loaded;
  const places = [...loaded.events].map(([unit, all]) => [unit, placeAmong(all, placed)] as const);
  return { ...loaded, firstSaid: new Map([...places, ...(loaded.firstSaid ?? [])]) };
}

/** Of work: a unit that it didn't touch has no place for it. What it would hold there holds the control; of what it touched it may now change nothing. */
export function onItsUnits(decision: Decision, { own }: OnUnits): Decision {
  if (decision.decided !== 'keep') return decision;
  const { effects } = decision.draft;
  const isOwn = ({ unit }: UnitEffect) => own.some((event) => event.unit === unit);
  const opens = effects.filter((one) => !isOwn(one)).flatMap(({ effect }) => effect.opens ?? []);
  const kept = effects.filter(isOwn).map(({ unit, effect }, index) => ({
    unit,
    effect: index === 0 && opens.length > 0 ? { ...effect, opens: [...(effect.opens ?? []), ...opens] } : effect,
  }));
  const nothing = own.filter(({ unit }) => kept.every((one) => one.unit !== unit));
  const all = [...kept, ...nothing.map(({ unit }) => ({ unit, effect: {} }))];
  return { decided: 'keep', draft: { ...decision.draft, effects: all } };
}

/** Of a movement or start-up: it goes along with what was mounted then. What was handed over was handed over then. */
export function goingAlong(decision: Decision, { own }: OnUnits): Decision {
  if (decision.decided !== 'keep') return decision;
  const { findings } = decision.draft.judgement as { findings: readonly Finding[] };
  const effects = decision.draft.effects.map(({ unit, effect }) => {
    const handsOver = own.find((event) => event.unit === unit)?.effect.handsOver;
    return { unit, effect: { ...effect, ...(handsOver && { handsOver }) } };
  });
  return { decided: 'keep', draft: { ...decision.draft, judgement: { findings }, effects } };
}

/**
 * What can't follow any more from what came before would have been refused; now it has happened, and is held until
 * somebody decides.
 */
export function heldBack({ own }: OnUnits, findings: readonly Finding[], record: FactRow): UnitEffect[] {
  const { units, effects } = JSON.parse(record.judgement) as { units?: WorkUnits; effects: readonly UnitEffect[] };
  const holder = units?.control ?? effects[0]?.unit;
  const opens = findings.map(({ rule, pointer }) => ({
    ...{ rule, pointer, severity: 'hold' as const, clearedBy: ifHeld(record.id) },
  }));
  return own.map(({ unit, effect: { replaces: _, ...effect } }) => ({
    unit,
    effect: unit === holder ? { ...effect, opens: [...(effect.opens ?? []), ...opens] } : effect,
  }));
}

/** On every unit that it touched, was thought to touch or turns out to. What it doesn't touch any more it leaves. */
export function judgedOn({ own, units, placed }: OnUnits, effects: readonly UnitEffect[], record: string) {
  return [...new Set([...units, ...effects.map(({ unit }) => unit)])].map((unit): UnitEffect => {
    const effect = effects.find((one) => one.unit === unit)?.effect;
    if (effect === undefined) return { unit, effect: { judges: record, placed: null } };
    const isOwn = own.some((event) => event.unit === unit);
    return { unit, effect: { ...effect, judges: record, ...(isOwn ? {} : { placed }) } };
  });
}

/** Whether it does to this unit what it did before. Unit by unit: what it did to one is not what it did to the other. */
export function saysTheSame({ unit, effect }: UnitEffect, { now }: OnUnits): boolean {
  const before = now.find((event) => event.unit === unit)?.effect;
  if (before === undefined || effect.placed === null) return before === undefined && effect.placed === null;
  return canonical(bare(before)) === canonical(bare(effect));
}

function bare({ replaces: _, judges: __, placed: ___, ...effect }: Effect): Effect {
  return effect;
}
