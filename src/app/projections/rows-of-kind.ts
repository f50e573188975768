/** What a fact puts into the tables that only some kinds have rows in. */

import type { UnitEffect, UnitKind } from '../../core/history/event.ts';
import { canonical } from '../../core/log/canonical.ts';
import { fingerprint } from '../../core/log/fingerprint.ts';
import { lifeKinds } from '../../core/records/life-bodies.ts';
import { type LotMoveKind, lotMoveBodies, restockingBody } from '../../core/records/lot-bodies.ts';
import { lotKey } from '../../core/records/lot-name.ts';
import { fitted, frame, sealRenewed, serial } from '../../core/records/parts.ts';
import type { Interval } from '../../core/time/instant.ts';
import type { ExpectedRow } from '../../store/projections/expected-tables.ts';
import type { SourceFact } from '../../store/projections/read-sources.ts';
import { type ClaimKind, claimRows, type Placed } from '../derived/claim-rows.ts';
import { type InstrumentEntry, instrumentEventRow } from '../derived/instrument-event-row.ts';
import { type LeaveKind, leaveRows } from '../derived/leave-rows.ts';
import { moveRow, restockingRow } from '../derived/move-rows.ts';
import { partUseRows, type WorkUnits } from '../derived/part-use-rows.ts';
import { registrationAnswer } from '../derived/registration-answer.ts';
import { serialRow, tagRow } from '../derived/unit-name-rows.ts';

/** The shop's own id of a person by the service's; null where it is forgotten. */
export type OwnIdOf = (owner: string, person: string) => string | null;

export type RowsOfKind = {
  readonly [table in
    | 'unit_names'
    | 'part_uses'
    | 'mentions'
    | 'record_references'
    | 'registrations'
    | 'stock_items'
    | 'intakes'
    | 'instrument_events'
    | 'authorisations'
    | 'approvals'
    | 'leave_ends'
    | 'claims'
    | 'claim_entries'
    | 'claim_texts'
    | 'terms'
    | 'editions']?: readonly ExpectedRow[];
};

type Members = Readonly<Record<string, unknown>>;
type Lot = { readonly maker: string; readonly number: string };

export type Stated = {
  readonly statement: Members;
  readonly effects: readonly UnitEffect[];
  /** Of a record of work. */
  readonly units: WorkUnits | undefined;
  /** Of a statement of stock. */
  readonly version: number | undefined;
  readonly performed: Interval;
  readonly maker: string;
  readonly ownIdOf: OwnIdOf;
};

export function rowsOfKind(fact: SourceFact, stated: Stated): RowsOfKind {
  switch (fact.kind) {
    case 'conversion':
    case 'mounting':
    case 'adjustment':
    case 'repair':
    case 'inspection':
    case 'test':
      return { ...referenceRows(fact, stated), ...workRows(fact, stated) };
    case 'correction': {
      const { kind, body } = stated.statement as { kind: string; body?: Members };
      if (body === undefined) return {};
      const isLife = (lifeKinds as readonly string[]).includes(kind);
      return isLife ? nameRows(fact) : workRows({ ...fact, kind }, { ...stated, statement: body });
    }
    case 'movement':
    case 'start-up':
    case 'retirement':
    case 'identity':
      return { ...referenceRows(fact, stated), ...nameRows(fact) };
    case 'judgement':
    case 'erasure':
      return {};
    case 'containment':
    case 'containment-progress':
    case 'containment-lift':
    case 'containment-unit':
    case 'disposition':
      return referenceRows(fact, stated);
    case 'registration':
      return registrationRows(fact, stated);
    case 'intake':
    case 'scrapping':
    case 'return':
    case 'count':
    case 'restocking':
      return { ...referenceRows(fact, stated), ...moveRows(fact, stated) };
    case 'authorisation':
    case 'authorisation-withdrawal':
    case 'approval':
    case 'approval-withdrawal':
      return { ...referenceRows(fact, stated), ...leaveRowsOf(fact, fact.kind, stated) };
    case 'claim':
    case 'claim-evidence':
    case 'claim-decision':
      return { ...referenceRows(fact, stated), ...claimRowsOf(fact, fact.kind, stated) };
    case 'terms':
      return claimRowsOf(fact, fact.kind, stated);
    case 'calibration':
    case 'interim-check':
    case 'incident':
    case 'instrument-void':
      return { ...referenceRows(fact, stated), ...instrumentRows(fact, fact.kind, stated) };
    case 'edition':
      return editionRows(fact, stated);
    case 'shop':
    case 'technician':
    case 'instrument':
    case 'attachment':
    case 'lot':
      return stockRows(fact, stated);
    default:
      throw new Error(`"${fact.kind}" is no kind of fact`);
  }
}

function instrumentRows(
  { owner, id }: SourceFact,
  kind: InstrumentEntry,
  { statement, performed }: Stated,
): RowsOfKind {
  const times = { performed_from: performed.from, performed_to: performed.to };
  return { instrument_events: [{ ...instrumentEventRow(kind, { owner, fact: id }, statement), ...times }] };
}

/** What was named by it, as its judgement has it. */
function nameRows({ id, judgement }: SourceFact): RowsOfKind {
  const { names } = JSON.parse(judgement) as { names: readonly ExpectedRow[] };
  return { unit_names: names.map((name) => ({ ...name, fact: id })) };
}

function referenceRows({ owner, id, kind }: SourceFact, { statement }: Stated): RowsOfKind {
  // What makes something void claims that.
  const reference =
    kind === 'instrument-void'
      ? statement['record']
      : kind === 'containment-lift'
        ? statement['containment']
        : statement['reference'];
  return { record_references: [{ owner, kind, reference: frame.reference.parse(reference), fact: id }] };
}

/** Statements are kept as sent: what the schemas trim and fill in is done again here. */
function workRows(
  { owner, id, kind, judgement }: SourceFact,
  { statement, units, maker, performed }: Stated,
): RowsOfKind {
  if (units === undefined) throw new Error('the judgement names no units');
  const parts = {
    fitted: fitted.array().parse(statement['fitted'] ?? []),
    seals: sealRenewed.array().parse(statement['seals'] ?? []),
  };
  const used = {
    shop: frame.shop.parse(statement['shop']),
    reference: frame.reference.parse(statement['reference']),
    performedTo: performed.to,
  };
  const tag = kind === 'mounting' ? serial.optional().parse(statement['tag']) : undefined;
  return {
    part_uses: partUseRows(parts, maker, units, used).map((row, index) => ({
      owner,
      fact: id,
      line: index + 1,
      ...row,
    })),
    // A tag that led to the control already is no new name.
    unit_names:
      tag === undefined || (JSON.parse(judgement) as { names?: unknown }).names !== undefined
        ? []
        : [{ ...tagRow(maker, tag, units.control), fact: id }],
  };
}

function registrationRows(fact: SourceFact, { statement, effects, ownIdOf }: Stated): RowsOfKind {
  const { owner, id } = fact;
  const of = statement['pump'] === undefined ? 'control' : 'pump';
  const { maker, serial: written } = statement[of] as { maker: string; serial: string };
  const bornAs = (kind: UnitKind) => effects.find(({ effect }) => effect.born?.kind === kind)?.unit ?? '';
  const onIt = of === 'pump' ? (statement['control'] as { serial?: string } | null) : null;
  const control = onIt && { unit: bornAs('control'), serial: serial.optional().parse(onIt.serial) };
  const names = [
    serialRow(maker, of, written, bornAs(of)),
    ...(control?.serial === undefined ? [] : [serialRow(maker, 'control', control.serial, control.unit)]),
  ];
  const judgement = JSON.parse(fact.judgement) as Parameters<typeof registrationAnswer>[0]['judgement'];
  const answer = { id, ...registrationAnswer({ of, unit: bornAs(of), maker, serial: written, control, judgement }) };
  return {
    unit_names: names.map((name) => ({ ...name, fact: id })),
    registrations: [
      {
        ...{ owner, unit_id: bornAs(of), fact: id, stated: canonical(answer) },
        fingerprint: registrationFingerprint(fact, { ...statement, [of]: undefined }, ownIdOf),
        answer: 'the answer that this fact was given, with its receipt',
      },
    ],
  };
}

/** Over the body as sent: with the shop's own id and the free text, and so null once either is erased. */
function registrationFingerprint(fact: SourceFact, statement: Members, ownIdOf: OwnIdOf): string | null {
  const { technician } = statement;
  const person = typeof technician === 'string' ? ownIdOf(fact.owner, technician) : technician;
  // Who is forgotten is called by the service's id.
  const isForgotten = person === null || (typeof technician === 'string' && person === technician);
  if (isForgotten || fact.private === null) return null;
  const free = JSON.parse(fact.private) as Members | null;
  const sent = { ...statement, ...free, technician: person };
  return fingerprint(Object.fromEntries(Object.entries(sent).filter(([, value]) => value !== undefined)));
}

function stockRows({ owner, id, kind }: SourceFact, { statement, version, ownIdOf }: Stated): RowsOfKind {
  const { [kind]: name, ...sent } = statement;
  if (version === undefined) throw new Error('the judgement names no version');
  if (kind === 'technician') {
    // What is said of a person, and so the fingerprint of it, is kept with the person alone.
    const person = String(name);
    const key = ownIdOf(owner, person) ?? `the own id of person ${person}`;
    return {
      stock_items: [{ owner, kind, key, fact: id, version, fingerprint: null, statement: canonical(statement) }],
    };
  }
  const key = kind === 'lot' ? lotKey((name as Lot).maker, (name as Lot).number) : String(name);
  return {
    stock_items: [{ owner, kind, key, fact: id, version, fingerprint: fingerprint(sent), statement: canonical(sent) }],
  };
}

function moveRows({ owner, id, kind, judgement }: SourceFact, { statement, performed }: Stated): RowsOfKind {
  const sent = Object.fromEntries(Object.entries(statement).filter(([name]) => name !== 'lot'));
  const row =
    kind === 'restocking'
      ? restockingRow(restockingBody.parse(statement), (JSON.parse(judgement) as { lot: Lot | null }).lot)
      : moveRow(kind as LotMoveKind, statement['lot'] as Lot, lotMoveBodies[kind as LotMoveKind].parse(sent));
  return { intakes: [{ owner, fact: id, performed_to: performed.to, ...row }] };
}

/** Whose shop an approval is about, its judgement says: the directory of organisations is not read here. */
function leaveRowsOf({ owner, id, judgement }: SourceFact, kind: LeaveKind, { statement }: Stated): RowsOfKind {
  const { distributor = owner } = JSON.parse(judgement) as { distributor?: string };
  return leaveRows(kind, { owner, fact: id }, statement, distributor);
}

/** Free text goes with the private section: without it there is none. */
function claimRowsOf(fact: SourceFact, kind: ClaimKind, { statement, maker }: Stated): RowsOfKind {
  const { owner, id, judgement, recordedAt } = fact;
  const told = fact.private === null ? null : (JSON.parse(fact.private) as unknown);
  const rows = claimRows(kind, { owner, fact: id, maker }, statement, JSON.parse(judgement) as Placed, told);
  const dated = (table: 'claims' | 'claim_entries' | 'terms') =>
    (rows[table] ?? []).map((row) => ({ ...row, recorded_at: recordedAt }));
  return {
    ...{ claims: dated('claims'), claim_entries: dated('claim_entries'), terms: dated('terms') },
    claim_texts: rows.claim_texts ?? [],
  };
}

function editionRows({ id, recordedAt }: SourceFact, { statement }: Stated): RowsOfKind {
  const { maker, edition, effectiveFrom, digest } = statement as {
    readonly [member in 'maker' | 'edition' | 'effectiveFrom' | 'digest']: string;
  };
  return {
    editions: [
      {
        ...{ maker, edition, digest, fact: id, published_at: recordedAt },
        effective_from: `${effectiveFrom}T00:00:00.000000Z`,
        content: `content with the digest ${digest}`,
      },
    ],
  };
}
