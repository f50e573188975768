/** Gives a draft its time, its place in the chains of its units, its leaf, receipt and answer: the rows of one fact. */
import type { UnitEvent } from '../../core/history/event.ts';
import { fold, type UnitState } from '../../core/history/fold.ts';
import { canonical } from '../../core/log/canonical.ts';
import {
  type Digests,
  entryOf,
  leafHead,
  type Section,
  type Subject,
  saltBytes,
  sectionDigest,
  sections,
  subjectsInOrder,
} from '../../core/log/leaf.ts';
import { type Receipt, receiptBody } from '../../core/log/receipt.ts';
import { ruleset } from '../../core/rules/all-rules.ts';
import { addMicroseconds, type Interval } from '../../core/time/instant.ts';
import type { Row } from '../../store/sql/insert-rows.ts';
import type { ReplacedRow } from '../../store/sql/upsert-rows.ts';
import type { Effects } from '../effects.ts';
import type { Draft } from './draft.ts';
import { enterStock, moveOf, serialOf, usedFrom } from './ledgers.ts';
import { type Loaded, placeOf } from './loaded.ts';
import type { Request } from './request.ts';

/** What one fact adds to every table. */
export type KeptFact = {
  readonly fact: Row<'facts'>;
  readonly private: Row<'fact_privates'> | null;
  readonly events: readonly UnitEvent[];
  readonly heads: readonly ReplacedRow[];
  readonly states: readonly ReplacedRow[];
  readonly request: Request;
  readonly draft: Draft;
  readonly recordedAt: string;
  readonly performed: Interval;
  readonly answer: string;
};

/** Also enters the new events and heads into `loaded`, so that the next request of the batch is judged after this one. */
export function keep(request: Request, draft: Draft, loaded: Loaded, effects: Effects): KeptFact {
  const recordedAt = recordingTime(draft, loaded);
  const performed = draft.performed === 'when recorded' ? { from: recordedAt, to: recordedAt } : draft.performed;
  const subjects = draft.effects.map(({ unit }) => subjectOf(unit, loaded));
  const sealed = seal(textsOf(request, draft), effects);
  const entry = entryOf(
    leafHead({
      id: request.fact,
      kind: draft.kind,
      subjects,
      recordedAt,
      edition: draft.edition,
      ruleset,
      digests: sealed.digests,
    }),
  );
  const receipt = signed({ entry, subjects, recordedAt, digests: sealed.digests, salts: sealed.salts }, effects);
  const events = draft.effects.map(({ unit, effect }, index): UnitEvent => {
    const { seq, prev } = subjects[index] ?? subjectOf(unit, loaded);
    const { from, to } = performed;
    return {
      unit,
      seq,
      prev,
      fact: request.fact,
      kind: draft.kind,
      performedFrom: from,
      performedTo: to,
      recordedAt,
      after: draft.after,
      effect,
    };
  });
  const states = events.map((event) => enter(event, entry, draft, loaded));
  for (const place of placeOf(request.owner, draft.statement)) loaded.places.set(request.fact, place);
  enterParts(request, draft, performed, loaded);
  return {
    fact: {
      owner: request.owner,
      id: request.fact,
      kind: draft.kind,
      maker: draft.maker,
      edition: draft.edition,
      ruleset,
      performed_from: performed.from,
      performed_to: performed.to,
      recorded_at: recordedAt,
      after: draft.after,
      concerns: draft.concerns,
      origin: sealed.texts.origin,
      statement: sealed.texts.statement,
      judgement: sealed.texts.judgement,
      origin_salt: bytea(sealed.salts.origin),
      statement_salt: bytea(sealed.salts.statement),
      judgement_salt: bytea(sealed.salts.judgement),
      private_digest: sealed.digests.private,
      entry,
    },
    private: {
      owner: request.owner,
      fact: request.fact,
      section: sealed.texts.private,
      salt: bytea(sealed.salts.private),
    },
    events,
    heads: events.map(({ unit, seq }) => ({ unit_id: unit, seq, entry, recorded_at: recordedAt })),
    states,
    request,
    draft,
    recordedAt,
    performed,
    answer: answerOf(request.fact, draft.answer, receipt),
  };
}

/** What went in, or came into a lot: a later request of the batch draws on what is left. */
function enterParts({ owner, fact }: Request, draft: Draft, performed: Interval, loaded: Loaded): void {
  const replaces = draft.kind === 'correction' ? draft.concerns : null;
  enterStock(loaded.ledgers, owner, {
    replaces,
    uses: draft.uses.flatMap((use) => usedFrom(use, fact)),
    move: draft.intake === undefined ? null : moveOf(draft.intake, performed.to),
  });
  const { serialUses } = loaded;
  serialUses.splice(0, serialUses.length, ...serialUses.filter((use) => use.fact !== replaces));
  serialUses.push(...draft.uses.flatMap((use) => serialOf(use, owner, fact)));
}

/** What the caller is sent, whether the fact is kept now or was before. */
export function answerOf(id: string, answer: object, receipt: Receipt): string {
  return JSON.stringify({ id, ...answer, receipt });
}

/** The database's clock, but always later than what the unit's chain ends with. */
function recordingTime(draft: Draft, loaded: Loaded): string {
  const least = draft.effects.flatMap(({ unit }) => {
    const head = loaded.heads.get(unit);
    return head === undefined ? [] : [addMicroseconds(head.recordedAt, 1)];
  });
  return [loaded.now, ...least].sort().at(-1) ?? loaded.now;
}

function subjectOf(unit: string, loaded: Loaded): Subject {
  const head = loaded.heads.get(unit);
  return { unit, seq: (head?.seq ?? 0) + 1, prev: head?.entry ?? null };
}

function textsOf(request: Request, draft: Draft): Record<Section, string> {
  return {
    origin: canonical(originOf(request)),
    statement: canonical(draft.statement),
    judgement: canonical(draft.judgement),
    private: canonical(draft.private),
  };
}

/** Who said it, and whose it is. */
export function originOf({ owner, client, subject }: Request): unknown {
  return { owner, recordedBy: { organisation: owner, client, subject } };
}

type Sealed = {
  readonly texts: Readonly<Record<Section, string>>;
  readonly salts: Readonly<Record<Section, string>>;
  readonly digests: Digests;
};

function seal(texts: Readonly<Record<Section, string>>, effects: Effects): Sealed {
  const drawn = Buffer.from(effects.randomBytes(saltBytes * sections.length));
  const salts = perSection((_, nth) => drawn.toString('hex', saltBytes * nth, saltBytes * (nth + 1)));
  return {
    texts,
    salts,
    digests: perSection((section) => sectionDigest(texts[section], Buffer.from(salts[section], 'hex'))),
  };
}

export function perSection(of: (section: Section, nth: number) => string): Record<Section, string> {
  return Object.fromEntries(sections.map((section, nth) => [section, of(section, nth)])) as Record<Section, string>;
}

/** The receipt with these fields. */
export function signed(fields: Omit<Receipt, 'key' | 'signature'>, effects: Effects): Receipt {
  // In the order in which they are signed, so that whoever checks it takes the receipt as it came.
  const receipt = { key: effects.signingKey, ...fields, subjects: subjectsInOrder(fields.subjects) };
  return { ...receipt, signature: effects.sign(receiptBody(receipt)) };
}

function enter(event: UnitEvent, entry: string, draft: Draft, loaded: Loaded): ReplacedRow {
  const events = [...(loaded.events.get(event.unit) ?? []), event];
  loaded.events.set(event.unit, events);
  loaded.heads.set(event.unit, { unit: event.unit, seq: event.seq, entry, recordedAt: event.recordedAt });
  return stateRow(fold(event.unit, events), draft.newUnits.find((one) => one.unit === event.unit)?.maker ?? '');
}

/** The projection of one unit. `maker` counts only for a row that is new. */
export function stateRow(state: UnitState, maker: string): ReplacedRow {
  return {
    unit_id: state.unit,
    maker,
    unit_kind: state.born?.kind ?? '',
    seq: state.seq,
    function: state.function,
    status: state.status,
    mounted_with: state.mounted?.with ?? null,
    came_in: state.custody?.is === 'in' && state.retired === null ? state.custody.record : null,
    state: canonical(state),
  };
}

function bytea(hex: string): string {
  return `\\x${hex}`;
}
