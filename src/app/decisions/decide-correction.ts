/** A record replaced by another, or made void. It stays readable; the state is as if it had never been. */

import type { RecordKind } from '../../core/catalogue/edition.ts';
import { firstSaid } from '../../core/history/effective-events.ts';
import type { UnitEffect, UnitEvent } from '../../core/history/event.ts';
import { judgeCorrection } from '../../core/judge/judge-correction.ts';
import type { LifeKind } from '../../core/records/life-bodies.ts';
import type { Finding } from '../../core/rules/finding.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import type { WorkUnits } from '../derived/part-use-rows.ts';
import type { Touched } from '../judging/touched.ts';
import { type Decision, type Draft, nothingElse } from '../recording/draft.ts';
import { ledgerKey, withoutUses } from '../recording/ledgers.ts';
import type { Loaded } from '../recording/loaded.ts';
import { isLife, type Request } from '../recording/request.ts';
import { correctedWork } from '../recording/wants.ts';
import { decideLife } from './decide-life.ts';
import { decideWork } from './decide-work.ts';
import { lotTouched } from './drawn-lots.ts';

export function decideCorrection(request: Request<'correction'>, loaded: Loaded): Decision {
  const { body, owner } = request;
  const record = loaded.records.find((one) => one.id === request.record && one.owner === owner);
  const units = loaded.unitsOfRecords.filter((one) => one.fact === request.record).map((one) => one.unit);
  if (record === undefined || units.length === 0) {
    return { decided: 'reject', refusal: { code: 'not-found', detail: `There is no record ${request.record}.` } };
  }
  const of = kindCorrected(record);
  const work = body.kind === of ? correctedWork(request) : null;
  const decision = work === null ? null : decideInstead(work, withoutRecord(record.id, loaded));
  const kept = decision?.decided === 'keep' ? decision.draft : null;
  const findings = judgeCorrection({
    record: { id: record.id, of, reference: referenceIn(record) },
    correctedBy: eventsOf(units, loaded).find(({ effect }) => effect.replaces === record.id)?.fact ?? null,
    kind: body.kind,
    reference: work?.body.reference ?? null,
    sameUnits: kept === null || sameUnits(kept, record, units),
  });
  if (findings.length > 0) return { decided: 'refuse', findings };
  const lots = lotsGivenBack(record, loaded);
  if (decision === null) return { decided: 'keep', draft: voidOf(request, record, of, units, lots) };
  if (decision.decided === 'refuse') return { ...decision, findings: decision.findings.map(inBody) };
  return kept === null ? decision : { decided: 'keep', draft: replacing(request, record, of, units, kept, lots) };
}

/** Lots that the record took from, where anything of them was taken in: others may find enough in them now. */
function lotsGivenBack({ owner, id }: FactRow, { lotsOfRecords, ledgers }: Loaded): Touched[] {
  return lotsOfRecords
    .filter((one) => one.owner === owner && one.fact === id && ledgers.has(ledgerKey(one)))
    .map((one) => lotTouched(one.lot));
}

function decideInstead(work: Request<RecordKind | LifeKind>, loaded: Loaded): Decision {
  return isLife(work) ? decideLife(work, loaded) : decideWork(work as Request<RecordKind>, loaded);
}

/** The kind as first recorded, whatever corrections came between. */
function kindCorrected(record: FactRow): string {
  return record.kind === 'correction' ? (JSON.parse(record.judgement) as { of: string }).of : record.kind;
}

/** Corrections inherit it. */
function referenceIn({ statement }: FactRow): string | null {
  return (JSON.parse(statement) as { reference?: string }).reference ?? null;
}

function unitsIn(judgement: unknown): WorkUnits | undefined {
  return (judgement as { units?: WorkUnits | null }).units ?? undefined;
}

function eventsOf(units: readonly string[], loaded: Loaded): UnitEvent[] {
  return units.flatMap((unit) => loaded.events.get(unit) ?? []);
}

/** As if the record had never been made, nor what it replaces; its reference is free for what stands in its place. */
export function withoutRecord(record: string, loaded: Loaded): Loaded {
  const events = [...loaded.events].map(([unit, all]): [string, UnitEvent[]] => {
    const gone = replacedBy(record, all);
    return [unit, all.filter(({ fact, effect }) => !gone.has(fact) && !gone.has(effect.judges ?? ''))];
  });
  const first = [...loaded.events].flatMap(([unit, all]): [string, UnitEvent][] => {
    const event = firstSaid(record, all);
    return event === null ? [] : [[unit, event]];
  });
  return {
    ...loaded,
    events: new Map(events),
    firstSaid: new Map(first),
    references: [],
    ledgers: withoutUses(loaded.ledgers, record),
    serialUses: loaded.serialUses.filter((use) => use.fact !== record),
  };
}

function replacedBy(record: string, events: readonly UnitEvent[]): ReadonlySet<string> {
  const earlier = events.find((event) => event.fact === record)?.effect.replaces;
  return new Set([record, ...(earlier === undefined ? [] : replacedBy(earlier, events))]);
}

/** The same control; the pump that it was on may itself have been corrected since. Off the bench, the unit that is named. */
function sameUnits({ judgement, effects }: Draft, record: FactRow, units: readonly string[]): boolean {
  const before = unitsIn(JSON.parse(record.judgement));
  if (before === undefined) return units.includes(effects[0]?.unit ?? '');
  return before.control === unitsIn(judgement)?.control;
}

function inBody(finding: Finding): Finding {
  return { ...finding, pointer: `/body${finding.pointer}` };
}

function replacing(
  request: Request<'correction'>,
  record: FactRow,
  of: string,
  units: readonly string[],
  draft: Draft,
  lots: readonly Touched[],
): Draft {
  const effects = withReplaced(draft.effects, units, record.id);
  return {
    ...draft,
    kind: 'correction',
    concerns: record.id,
    statement: { ...statementOf(request, record), kind: of, body: draft.statement },
    judgement: { ...(draft.judgement as object), of, effects },
    effects,
    reference: null,
    judgesAgain: [...(draft.judgesAgain ?? []), ...lots, { what: 'following' }],
    answer: { ...draft.answer, replaces: record.id },
  };
}

function voidOf(
  request: Request<'correction'>,
  record: FactRow,
  of: string,
  units: readonly string[],
  lots: readonly Touched[],
): Draft {
  const effects = withReplaced([], units, record.id);
  return {
    ...nothingElse,
    kind: 'correction',
    maker: record.maker,
    edition: record.edition,
    concerns: record.id,
    statement: { ...statementOf(request, record), kind: 'void' },
    judgement: { findings: [], of, effects, units: unitsIn(JSON.parse(record.judgement)) ?? null },
    effects,
    judgesAgain: [...lots, { what: 'following' }],
    status: 201,
    answer: { replaces: record.id, findings: [] },
  };
}

function statementOf({ body: { reason } }: Request<'correction'>, record: FactRow): object {
  return { record: record.id, reason, reference: referenceIn(record) };
}

/** Every unit that the record touched has to forget it, also one that its successor doesn't touch. */
function withReplaced(effects: readonly UnitEffect[], units: readonly string[], record: string): UnitEffect[] {
  const others = units.filter((unit) => effects.every((one) => one.unit !== unit));
  return [
    ...effects.map(({ unit, effect }) => ({
      unit,
      effect: units.includes(unit) ? { ...effect, replaces: record } : effect,
    })),
    ...others.map((unit) => ({ unit, effect: { replaces: record } })),
  ];
}
