/** A record judged again, because a later fact changed what it is judged by. The record stays; a fact says what holds now. */

import { effectiveEvents } from '../../core/history/effective-events.ts';
import type { UnitEffect, UnitEvent } from '../../core/history/event.ts';
import type { Status } from '../../core/history/fold.ts';
import type { Verdict } from '../../core/judge/evidence.ts';
import { canonical } from '../../core/log/canonical.ts';
import type { Finding } from '../../core/rules/finding.ts';
import { ifHeld, judgementRules } from '../../core/rules/judgement-rules.ts';
import { findingsBy } from '../../core/rules/rule.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import type { WorkUnits } from '../derived/part-use-rows.ts';
import { type Decision, type Draft, nothingElse } from '../recording/draft.ts';
import { type Loaded, nameOfUnit } from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { withoutRecord } from './decide-correction.ts';
import { decideWork } from './decide-work.ts';

export function decideJudgement(request: Request<'judgement'>, loaded: Loaded): Decision {
  const { record: id, work, owner } = request;
  const record = loaded.records.find((one) => one.id === id && one.owner === owner);
  if (record === undefined) {
    return { decided: 'reject', refusal: { code: 'not-found', detail: `There is no record ${id}.` } };
  }
  if (isReplaced(id, loaded)) return asBefore(id);
  const decision = onItsControl(decideWork(work, withoutRecord(id, loaded)), record, loaded);
  if (decision.decided === 'reject' || decision.decided === 'repeat') return decision;
  const chains = [...loaded.events.values()];
  const own = chains.flat().filter((event) => event.fact === id);
  const effects =
    decision.decided === 'keep' ? onItsUnits(decision.draft.effects, own) : heldBack(own, decision.findings, record);
  // Unit by unit: what a record did to one of its units is not what it did to the other.
  const now = chains.flatMap(effectiveEvents).filter((event) => event.fact === id);
  const judgement = (
    decision.decided === 'keep'
      ? decision.draft.judgement
      : { findings: decision.findings.map((one) => asHold(one, id)), status: 'held' }
  ) as Judged;
  const before = JSON.parse(loaded.judgedLast.get(id) ?? record.judgement) as Judged;
  const changes = changedVerdicts(before, judgement);
  if (changes.length === 0 && own.every(({ unit }) => sayTheSame(unit, now, effects))) return asBefore(id);
  return {
    decided: 'keep',
    draft: draftOf(request, record, { ...judgement, was: before.status, changes }, judged(own, effects, id)),
  };
}

type Judged = {
  readonly status: Status;
  readonly verdicts?: readonly Pick<Verdict, 'pointer' | 'of' | 'place' | 'verdict'>[];
};

/** Verdicts that come out otherwise than before, old and new; null where there was none, or is none any more. */
function changedVerdicts({ verdicts: was = [] }: Judged, { verdicts: is = [] }: Judged) {
  const before = new Map(was.map((one) => [one.pointer, one]));
  const now = new Map(is.map((one) => [one.pointer, one]));
  return [...new Map([...before, ...now]).values()]
    .map(({ pointer, of, place }) => ({
      ...{ pointer, of, place },
      was: before.get(pointer)?.verdict ?? null,
      is: now.get(pointer)?.verdict ?? null,
    }))
    .filter((one) => one.was !== one.is);
}

/** By a mounting that came late another control may have been on the pump that the record names. */
function onItsControl(decision: Decision, record: FactRow, loaded: Loaded): Decision {
  if (decision.decided !== 'keep') return decision;
  const called = (judgement: unknown) => {
    const { control } = (judgement as { units: WorkUnits }).units;
    return nameOfUnit(loaded, control) ?? control;
  };
  const names = {
    record: record.id,
    recorded: called(JSON.parse(record.judgement)),
    now: called(decision.draft.judgement),
  };
  const findings = findingsBy(judgementRules, names);
  return findings.length === 0 ? decision : { decided: 'refuse', findings };
}

/** A unit that the record didn't touch has no place for it: what it would hold there holds the control. */
function onItsUnits(effects: readonly UnitEffect[], own: readonly UnitEvent[]): UnitEffect[] {
  const isOwn = ({ unit }: UnitEffect) => own.some((event) => event.unit === unit);
  const opens = effects.filter((one) => !isOwn(one)).flatMap(({ effect }) => effect.opens ?? []);
  return effects.filter(isOwn).map(({ unit, effect }, index) => ({
    unit,
    effect: index === 0 && opens.length > 0 ? { ...effect, opens: [...(effect.opens ?? []), ...opens] } : effect,
  }));
}

/** What was corrected meanwhile counts no more. */
function isReplaced(record: string, { events }: Loaded): boolean {
  return [...events.values()].flat().some((event) => event.effect.replaces === record);
}

function asBefore(record: string): Decision {
  return { decided: 'repeat', status: 200, answer: JSON.stringify({ record, changed: false }), replayed: false };
}

function asHold(finding: Finding, record: string): Finding {
  return { ...finding, severity: 'hold', clearedBy: ifHeld(record) };
}

/**
 * What can't follow any more from what came before would have been refused; now it has happened, and is held until
 * somebody decides.
 */
function heldBack(own: readonly UnitEvent[], findings: readonly Finding[], record: FactRow): UnitEffect[] {
  const { control } = (JSON.parse(record.judgement) as { units: WorkUnits }).units;
  const opens = findings.map(({ rule, pointer }) => ({
    ...{ rule, pointer, severity: 'hold' as const, clearedBy: ifHeld(record.id) },
  }));
  return own.map(({ unit, effect: { replaces: _, ...effect } }) => ({
    unit,
    effect: unit === control ? { ...effect, opens: [...(effect.opens ?? []), ...opens] } : effect,
  }));
}

function sayTheSame(unit: string, now: readonly UnitEvent[], effects: readonly UnitEffect[]): boolean {
  const { replaces: _, judges: __, ...before } = now.find((event) => event.unit === unit)?.effect ?? {};
  return canonical(before) === canonical(effects.find((one) => one.unit === unit)?.effect ?? {});
}

/** On the units that the record touched; what it now does to none of them is nothing. */
function judged(own: readonly UnitEvent[], effects: readonly UnitEffect[], record: string): UnitEffect[] {
  return own.map(({ unit }) => ({
    unit,
    effect: { ...effects.find((one) => one.unit === unit)?.effect, judges: record },
  }));
}

function draftOf(
  { cause, owner: _ }: Request<'judgement'>,
  record: FactRow,
  judgement: object,
  effects: readonly UnitEffect[],
): Draft {
  return {
    ...nothingElse,
    kind: 'judgement',
    maker: record.maker,
    edition: record.edition,
    concerns: record.id,
    statement: { record: record.id, cause },
    judgement: { ...judgement, effects },
    effects,
    status: 201,
    answer: { record: record.id, changed: true },
  };
}
