/** A record judged again, because a later fact changed what it is judged by. The record stays; a fact says what holds now. */

import type { RecordKind } from '../../core/catalogue/edition.ts';
import type { UnitEffect } from '../../core/history/event.ts';
import type { Status } from '../../core/history/fold.ts';
import type { Verdict } from '../../core/judge/evidence.ts';
import type { Finding } from '../../core/rules/finding.ts';
import { ifHeld, judgementRules } from '../../core/rules/judgement-rules.ts';
import { findingsBy } from '../../core/rules/rule.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import type { WorkUnits } from '../derived/part-use-rows.ts';
import { type Decision, type Draft, nothingElse } from '../recording/draft.ts';
import { type Loaded, nameOfUnit } from '../recording/loaded.ts';
import { isLife, type Request } from '../recording/request.ts';
import { withoutRecord } from './decide-correction.ts';
import { decideLife } from './decide-life.ts';
import { decideWork } from './decide-work.ts';
import {
  goingAlong,
  heldBack,
  inItsPlace,
  judgedOn,
  type OnUnits,
  onItsUnits,
  onUnits,
  saysTheSame,
} from './judged-again.ts';

export function decideJudgement(request: Request<'judgement'>, loaded: Loaded): Decision {
  const { record: id, work, owner } = request;
  const record = loaded.records.find((one) => one.id === id && one.owner === owner);
  if (record === undefined) {
    return { decided: 'reject', refusal: { code: 'not-found', detail: `There is no record ${id}.` } };
  }
  if (isReplaced(id, loaded)) return asBefore(id);
  const on = onUnits(id, work.kind, loaded);
  const decision = decideAgain(work, record, loaded, on);
  if (decision.decided === 'reject' || decision.decided === 'repeat') return decision;
  const effects = decision.decided === 'keep' ? decision.draft.effects : heldBack(on, decision.findings, record);
  const judgement = (
    decision.decided === 'keep'
      ? decision.draft.judgement
      : { findings: decision.findings.map((one) => asHold(one, id)), status: 'held' }
  ) as Judged;
  const before = JSON.parse(loaded.judgedLast.get(id) ?? record.judgement) as Judged;
  const changes = changedVerdicts(before, judgement);
  const after = judgedOn(on, effects, id);
  if (changes.length === 0 && after.every((one) => saysTheSame(one, on))) return asBefore(id);
  const was = before.status === undefined ? {} : { was: before.status };
  return { decided: 'keep', draft: draftOf(request, record, { ...judgement, ...was, changes }, after) };
}

function decideAgain(work: Request<'judgement'>['work'], record: FactRow, loaded: Loaded, on: OnUnits): Decision {
  const without = withoutRecord(record.id, loaded);
  if (isLife(work)) return goingAlong(decideLife(work, inItsPlace(on, without)), on);
  return onItsUnits(onItsControl(decideWork(work as Request<RecordKind>, without), record, loaded), on);
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
