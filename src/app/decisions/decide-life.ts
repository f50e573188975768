/** Movements, start-ups and retirements. */
import type { UnitKind } from '../../core/history/event.ts';
import { custodyAfter, judgeLife } from '../../core/judge/judge-life.ts';
import type { LifeCase, LifeUnit } from '../../core/judge/life-case.ts';
import type { LifeKind } from '../../core/records/life-bodies.ts';
import { type Interval, parseTime } from '../../core/time/instant.ts';
import { tagRow } from '../derived/unit-name-rows.ts';
import type { Decision, Draft } from '../recording/draft.ts';
import {
  editionOf,
  knownTo,
  type Loaded,
  nameOfUnit,
  newestEdition,
  referenceUsedBy,
  tagHolder,
  unitNamed,
} from '../recording/loaded.ts';
import type { Request } from '../recording/request.ts';
import { unitMeant } from '../recording/wants.ts';
import { afterIsKnown, aroundWork, followingOn, withRecord } from './around-work.ts';
import { refuseUnknown } from './findings.ts';
import { lifePrivate, lifeStatement } from './life-statement.ts';
import { coveredWork } from './whereabouts.ts';

type LifeRequest = Request<LifeKind>;
type Units = Pick<LifeCase, 'unit' | 'other'>;

export function decideLife(request: LifeRequest, loaded: Loaded): Decision {
  const { body, owner } = request;
  const performed = parseTime(body.performedAt);
  const { maker } = unitMeant(request.body).ref;
  const units = unitsAtHand(request, loaded, performed);
  if ('decided' in units) return units;
  const holder = holderOf(request, loaded);
  const isIts = holder !== null && holder.unit === tagged(units)?.unit;
  const result = judgeLife({
    ...units,
    fact: request.fact,
    record: request,
    edition:
      request.kind === 'start-up'
        ? editionOf(loaded, maker, newestEdition(loaded.editions, maker, performed.to) ?? '')
        : null,
    tagTakenBy: isIts ? null : (holder?.name ?? null),
    tagIsIts: isIts,
    referenceUsedBy: referenceUsedBy(loaded, request, body.reference),
    afterIsKnown: afterIsKnown(request, loaded, [units.unit.unit, units.other?.unit ?? null]),
    known: knownTo(loaded, owner),
    performed,
    now: loaded.now,
  });
  if ('refused' in result) return { decided: 'refuse', findings: result.refused };
  return { decided: 'keep', draft: draftOf(request, loaded, units, result, performed, isIts) };
}

/** What is on what goes along when it is moved or started up; a tag is the control's, and a unit retires alone. */
function unitsAtHand(request: LifeRequest, loaded: Loaded, performed: Interval): Units | Decision {
  const { kind, ref } = unitMeant(request.body);
  const found = unitNamed(loaded, kind, ref);
  const name = 'serial' in ref ? ref.serial : ref.tag;
  if (found === null) {
    return refuseUnknown(`/${kind}`, `No ${kind} of ${ref.maker} is known as ${name}. Register it first.`, name);
  }
  const named = atHand(request, loaded, performed, found, kind, null);
  if (request.kind === 'retirement') return { unit: named, other: null };
  const otherUnit = named.state.mounted?.with ?? null;
  const other =
    otherUnit === null
      ? null
      : atHand(request, loaded, performed, otherUnit, kind === 'pump' ? 'control' : 'pump', named);
  if (request.kind === 'start-up' || request.body.what !== 'tagged') return { unit: named, other };
  const control = kind === 'control' ? named : other;
  if (control !== null) return { unit: control, other: null };
  return refuseUnknown('/pump', `By the records there was no control on pump ${named.name} then.`);
}

/** @param named the unit that the record names, where this is its counterpart */
function atHand(
  request: LifeRequest,
  loaded: Loaded,
  performed: Interval,
  unit: string,
  kind: UnitKind,
  named: LifeUnit | null,
): LifeUnit {
  const { body, owner } = request;
  const name = nameOfUnit(loaded, unit);
  const comesIn = request.kind === 'movement' && custodyAfter(request.body.what) === 'in';
  return {
    unit,
    kind,
    name: name ?? (named === null ? '' : `the control of pump ${named.name}`),
    hasName: name !== null,
    ...aroundWork(request, loaded, unit, performed),
    hours: named === null ? (body.hours ?? null) : null,
    covers: comesIn
      ? coveredWork(unit, withRecord(request, loaded, unit, performed).before, { owner, shop: body.shop }, loaded)
      : [],
  };
}

/** The control that the tag is for. */
function tagged({ unit, other }: Units): LifeUnit | null {
  return [unit, other].find((one) => one?.kind === 'control') ?? null;
}

function holderOf(request: LifeRequest, loaded: Loaded) {
  const tag = request.kind === 'movement' ? request.body.tag : undefined;
  return tag === undefined ? null : tagHolder(loaded, unitMeant(request.body).ref.maker, tag);
}

function tagGiven(request: LifeRequest, control: string) {
  const tag = request.kind === 'movement' ? request.body.tag : undefined;
  return tag === undefined ? null : tagRow(unitMeant(request.body).ref.maker, tag, control);
}

function draftOf(
  request: LifeRequest,
  loaded: Loaded,
  { unit, other }: Units,
  { findings, effects }: Exclude<ReturnType<typeof judgeLife>, { refused: unknown }>,
  performed: Interval,
  isNamed: boolean,
): Draft {
  const { maker } = unitMeant(request.body).ref;
  const of = (kind: UnitKind) => [unit, other].find((one) => one?.kind === kind) ?? null;
  const tag = tagGiven(request, of('control')?.unit ?? '');
  const names = tag === null || isNamed ? [] : [tag];
  const told = (one: LifeUnit | null) =>
    one && { unit: one.unit, maker, name: one.hasName ? one.name : (names[0]?.as_written ?? null) };
  return {
    kind: request.kind,
    maker,
    edition: null,
    performed,
    after: request.body.after ?? null,
    concerns: null,
    statement: lifeStatement(request.sent, knownTo(loaded, request.owner)),
    judgement: { findings, effects, names },
    private: lifePrivate(request.sent),
    effects,
    newUnits: [],
    names,
    uses: [],
    reference: { kind: request.kind, reference: request.body.reference },
    judgesAgain: followingOn([unit, other]),
    status: 201,
    answer: { control: told(of('control')), pump: told(of('pump')), findings },
  };
}
