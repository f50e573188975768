/** Whatever is done on a bench: conversions, mountings, adjustments, repairs, inspections and tests. */
import type { RecordKind } from '../../core/catalogue/edition.ts';
import type { UnitKind } from '../../core/history/event.ts';
import type { Case, JudgedRecord, UnitAtHand } from '../../core/judge/case.ts';
import { judge } from '../../core/judge/judge.ts';
import { type CaseInput, makeCase } from '../../core/judge/make-case.ts';
import type { UnitRef } from '../../core/records/parts.ts';
import { type Interval, parseTime } from '../../core/time/instant.ts';
import { partUseRows } from '../derived/part-use-rows.ts';
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
import { makerOf } from '../recording/wants.ts';
import { afterIsKnown, aroundWork, followingMounting, followingOn } from './around-work.ts';
import { lotsShifted, serialsElsewhere, standingOfLots } from './drawn-lots.ts';
import { refuseUnknown } from './findings.ts';
import { sameTime } from './same-time.ts';
import { privateOf, statementOf } from './statement.ts';
import { whereaboutsOf } from './whereabouts.ts';

type WorkRequest = Request<RecordKind>;

export function decideWork(request: WorkRequest, loaded: Loaded): Decision {
  const { body, owner } = request;
  const maker = makerOf(request);
  const edition = editionOf(loaded, maker, body.edition);
  if (edition === null)
    return refuseUnknown('/edition', `${maker} has published no edition ${body.edition}.`, body.edition);
  const performed = parseTime(body.performedAt);
  const atHand = unitsAtHand(request, loaded, performed);
  if ('decided' in atHand) return atHand;
  const { control, pump } = atHand;
  const known = knownTo(loaded, owner);
  const newest = newestEdition(loaded.editions, maker, performed.to);
  const record = recordOf(request);
  const workUnits = { control: control.unit, pump: pump?.unit ?? null };
  const used = { shop: body.shop, reference: body.reference, performedTo: performed.to };
  const uses = partUseRows(record, maker, workUnits, used);
  const tag = request.kind === 'mounting' ? request.body.tag : undefined;
  const holder = tag === undefined ? null : tagHolder(loaded, maker, tag);
  const drawing = { owner, fact: request.fact, shop: body.shop, uses };
  const later = new Map([control, ...(pump === null ? [] : [pump])].map((one) => [one.unit, one.later]));
  const input: CaseInput = {
    kind: request.kind,
    fact: request.fact,
    record,
    performed,
    now: loaded.now,
    edition,
    newerEdition: newest === body.edition ? null : newest,
    referenceUsedBy: referenceUsedBy(loaded, request, body.reference),
    afterIsKnown: afterIsKnown(request, loaded, [control.unit, pump?.unit ?? null]),
    known,
    stock: standingOfLots(drawing, loaded),
    twice: serialsElsewhere({ ...drawing, record, at: performed.to, later }, loaded),
    control,
    pump,
    elsewhere: elsewhere(request, loaded, control, pump),
    sameTime: [],
    tagTakenBy: holder === null || holder.unit === control.unit ? null : holder.name,
    builtFor: request.kind === 'conversion' ? (request.body.for as Case['builtFor'] | undefined) : undefined,
  };
  const judged = makeCase({ ...input, sameTime: sameTime(request, input, loaded, performed) });
  if ('unknown' in judged) return refuseUnknown('/edition', `${capital(judged.unknown)}.`);
  const result = judge(judged);
  if ('refused' in result)
    return { decided: 'refuse', findings: result.refused, extra: { recorded: recordedState(judged) } };
  const draft = draftOf(request, loaded, judged, result, performed, maker, uses);
  const units = [control.unit, ...(pump === null ? [] : [pump.unit])];
  const following =
    request.kind === 'mounting' ? followingMounting(units, loaded, performed) : followingOn([control, pump]);
  return {
    decided: 'keep',
    draft: { ...draft, judgesAgain: [...lotsShifted(drawing, loaded), ...following] },
  };
}

/** Control and pump of the work, as they were just before it. */
function unitsAtHand(
  request: WorkRequest,
  loaded: Loaded,
  performed: Interval,
): { control: UnitAtHand; pump: UnitAtHand | null } | Decision {
  const { control, pump } = request.body;
  const { hours = null, shop } = request.body;
  const atHand = (unit: string, fallback: string, isNamed: boolean): UnitAtHand => {
    const name = nameOfUnit(loaded, unit);
    const around = aroundWork(request, loaded, unit, performed);
    return {
      unit,
      name: name ?? fallback,
      hasName: name !== null,
      ...around,
      hours: isNamed ? hours : null,
      whereabouts: whereaboutsOf(around, { owner: request.owner, shop }, loaded),
    };
  };
  const pumpUnit = pump === undefined ? null : unitNamed(loaded, 'pump', pump);
  if (pump !== undefined && pumpUnit === null) return notKnown('pump', pump);
  const onPump = pumpUnit === null ? null : atHand(pumpUnit, '', true);
  const fallback = onPump === null ? '' : `the control of pump ${onPump.name}`;
  const controlUnit =
    control === undefined ? (onPump?.state.mounted?.with ?? null) : unitNamed(loaded, 'control', control);
  if (control !== undefined && controlUnit === null) return notKnown('control', control);
  if (controlUnit === null) {
    return refuseUnknown(
      '/pump',
      `By the records there was no control on pump ${onPump?.name} when this work was done.`,
    );
  }
  const named = atHand(controlUnit, fallback, pump === undefined);
  if (request.kind === 'mounting') return { control: named, pump: onPump };
  const under = named.state.mounted?.with ?? null;
  return { control: named, pump: under === null ? null : atHand(under, '', pump !== undefined) };
}

function notKnown(kind: UnitKind, ref: UnitRef): Decision {
  const name = 'serial' in ref ? ref.serial : ref.tag;
  return refuseUnknown(`/${kind}`, `No ${kind} of ${ref.maker} is known as ${name}. Register it first.`, name);
}

function elsewhere(
  request: WorkRequest,
  loaded: Loaded,
  control: UnitAtHand,
  pump: UnitAtHand | null,
): Case['elsewhere'] {
  if (request.kind !== 'mounting') return { onPump: null, underControl: null };
  const other = pump?.state.mounted?.with ?? null;
  const under = control.state.mounted?.with ?? null;
  return {
    onPump: other === null || other === control.unit ? null : (nameOfUnit(loaded, other) ?? 'another control'),
    underControl: under === null ? null : (nameOfUnit(loaded, under) ?? 'another pump'),
  };
}

function recordOf(request: WorkRequest): JudgedRecord {
  const { body } = request;
  return {
    technician: body.technician,
    shop: body.shop,
    seals: 'seals' in body ? body.seals : [],
    torques: 'torques' in body ? body.torques : [],
    settings: body.settings,
    checks: body.checks,
    measurements: body.measurements,
    circuit: body.circuit,
    attachments: body.attachments,
    removed: 'removed' in body ? body.removed : [],
    fitted: 'fitted' in body ? body.fitted : [],
    found: 'found' in body ? body.found : undefined,
    opened: 'opened' in body ? body.opened : undefined,
    sheet: 'sheet' in body ? body.sheet : undefined,
    to: request.kind === 'conversion' ? request.body.to : undefined,
    mounting: request.kind === 'mounting' ? { on: request.body.on, tag: request.body.tag } : null,
  };
}

function draftOf(
  request: WorkRequest,
  loaded: Loaded,
  judged: Case,
  { judgement, effects }: Exclude<ReturnType<typeof judge>, { refused: unknown }>,
  performed: Interval,
  maker: string,
  uses: Draft['uses'],
): Draft {
  const { body } = request;
  const units = { control: judged.control.unit, pump: judged.pump?.unit ?? null };
  const tag = request.kind === 'mounting' ? request.body.tag : undefined;
  // Told a second time it is no new name, and the judgement says so.
  const isNamed = tag !== undefined && tagHolder(loaded, maker, tag) !== null;
  const unit = (one: UnitAtHand, name: string | null) => ({ unit: one.unit, maker, name });
  const { control, pump } = judged;
  return {
    kind: request.kind,
    maker,
    edition: body.edition,
    performed,
    after: body.after ?? null,
    concerns: null,
    statement: statementOf(request.sent, judged.known),
    judgement: { ...judgement, units, effects, ...(isNamed && { names: [] }) },
    private: privateOf(request.sent),
    effects,
    newUnits: [],
    names: tag === undefined || isNamed ? [] : [tagRow(maker, tag, units.control)],
    uses,
    reference: { kind: request.kind, reference: body.reference },
    status: 201,
    answer: {
      control: unit(control, ownName(control) ?? tag ?? null),
      pump: pump === null ? null : unit(pump, ownName(pump)),
      status: judgement.status,
      function: judgement.function,
      findings: judgement.findings,
      fit: judgement.fit,
    },
  };
}

/** The answer to a refusal shows what the records say, beside what was sent. */
function recordedState({ control, pump, before, functionBefore }: Case): unknown {
  const names = { control: ownName(control), pump: pump === null ? null : ownName(pump) };
  return { ...names, function: functionBefore, fit: before };
}

/** As reads have it: the serial or tag. What people call a control that has neither is for sentences. */
function ownName({ name, hasName }: UnitAtHand): string | null {
  return hasName ? name : null;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
