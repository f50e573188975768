/** What one fact puts into the tables that are derived, made from its sections alone. */
import { z } from 'zod';
import type { UnitEffect } from '../../core/history/event.ts';
import { canonical } from '../../core/log/canonical.ts';
import { frame } from '../../core/records/parts.ts';
import { parseTime, type TimeInput } from '../../core/time/instant.ts';
import type { ExpectedRow } from '../../store/projections/expected-tables.ts';
import type { SourceFact } from '../../store/projections/read-sources.ts';
import { mentionRows } from '../derived/mention-rows.ts';
import { type OwnIdOf, type RowsOfKind, rowsOfKind } from './rows-of-kind.ts';

export type RowsOfFact = RowsOfKind & {
  /** Columns of the fact itself that its statement says again. */
  readonly facts: readonly ExpectedRow[];
  readonly effects: readonly ExpectedRow[];
  readonly all_leaves: readonly ExpectedRow[];
  readonly outbox: readonly ExpectedRow[];
};

type Members = Readonly<Record<string, unknown>>;

/** What rows are made of. What else a judgement says is not looked at. */
const judgementSchema = z.object({
  effects: z.array(z.object({ unit: z.guid(), effect: z.custom<UnitEffect['effect']>(isObject) })).default([]),
  units: z.object({ control: z.guid(), pump: z.guid().nullable() }).nullish(),
  version: z.int().optional(),
});

/** Throws where a section is not what a fact of its kind has. */
export function rowsOfFact(fact: SourceFact, ownIdOf: OwnIdOf): RowsOfFact {
  const { owner, id, kind, recordedAt, entry } = fact;
  const statement = JSON.parse(fact.statement) as Members;
  const { effects, units, version } = judgementSchema.parse(JSON.parse(fact.judgement));
  const columns = columnsOf(fact, statement);
  const { performedAt } = (kind === 'correction' ? (statement['body'] ?? {}) : statement) as Members;
  const performed =
    performedAt === undefined ? { from: recordedAt, to: recordedAt } : parseTime(performedAt as TimeInput);
  const times = { performed_from: performed.from, performed_to: performed.to };
  return {
    facts: [{ owner, id, ...columns, ...times }],
    effects: effects.map(({ unit, effect }) => ({
      ...{ owner, entry, maker: columns.maker, unit_id: unit, fact: id, kind, ...times },
      ...{ recorded_at: recordedAt, after: columns.after, effect: canonical(effect) },
    })),
    ...rowsOfKind(fact, {
      statement,
      effects,
      units: units ?? undefined,
      version,
      performed,
      maker: columns.maker ?? '',
      ownIdOf,
    }),
    mentions: mentionRows(kind, statement).map((row) => ({
      ...{ owner, fact: id, performed_to: performed.to, maker: columns.maker },
      ...row,
    })),
    all_leaves: [{ fact: id, entry }],
    outbox: [{ owner, fact: id, kind, recorded_at: recordedAt }],
  };
}

/** The people whose own ids are wanted for `rowsOfFact`. */
export function peopleWanted({ kind, owner, statement }: SourceFact): { owner: string; id: string }[] {
  if (kind !== 'technician' && kind !== 'registration') return [];
  const { technician } = JSON.parse(statement) as Members;
  return typeof technician === 'string' ? [{ owner, id: technician }] : [];
}

type Columns = {
  readonly maker: string | null;
  readonly edition: string | null;
  readonly after: string | null;
  readonly concerns: string | null;
};

function columnsOf(fact: SourceFact, statement: Members): Columns {
  const { kind, recordMaker, recordEdition } = fact;
  const none = { maker: null, edition: null, after: null, concerns: null };
  const makerIn = (...names: string[]) => {
    const named = names.map((name) => statement[name]).find((one) => one !== undefined);
    return (named as { maker: string }).maker;
  };
  switch (kind) {
    case 'conversion':
    case 'mounting':
    case 'adjustment':
    case 'repair':
    case 'inspection':
    case 'test':
      return {
        maker: makerIn('control', 'pump'),
        edition: statement['edition'] as string,
        after: frame.after.parse(statement['after']) ?? null,
        concerns: null,
      };
    case 'movement':
    case 'start-up':
    case 'retirement':
      return {
        ...none,
        maker: makerIn('control', 'pump'),
        after: frame.after.parse(statement['after']) ?? null,
      };
    case 'identity':
      return { ...none, maker: makerIn('pump', 'control') };
    case 'judgement':
      return { ...none, maker: recordMaker, edition: recordEdition, concerns: statement['record'] as string };
    case 'instrument-void':
      return { ...none, concerns: statement['record'] as string };
    case 'correction': {
      const record = statement['record'] as string;
      const { body } = statement as { body?: Members };
      if (body === undefined) return { ...none, maker: recordMaker, edition: recordEdition, concerns: record };
      return { ...columnsOf({ ...fact, kind: statement['kind'] as string }, body), concerns: record };
    }
    case 'disposition': {
      const record = statement['record'] as string;
      return { maker: recordMaker, edition: recordEdition, after: record, concerns: record };
    }
    case 'registration':
      // That of a pump has a control too: the one on it, which names no maker.
      return { ...none, maker: makerIn('pump', 'control'), edition: statement['edition'] as string };
    case 'edition':
      return { ...none, maker: statement['maker'] as string, edition: statement['edition'] as string };
    case 'restocking':
      return { ...none, maker: recordMaker, concerns: statement['record'] as string };
    case 'authorisation-withdrawal':
      return { ...none, concerns: statement['authorisation'] as string };
    case 'approval':
      return { ...none, maker: statement['maker'] as string };
    case 'approval-withdrawal':
      return { ...none, maker: statement['maker'] as string, concerns: statement['approval'] as string };
    case 'claim':
      return {
        ...none,
        maker: makerIn('control', 'pump'),
        concerns: frame.after.parse(statement['replaces']) ?? null,
      };
    case 'claim-evidence':
      return { ...none, maker: recordMaker, concerns: statement['claim'] as string };
    case 'claim-decision':
      return { ...none, maker: statement['maker'] as string, concerns: statement['claim'] as string };
    case 'terms':
      return { ...none, maker: statement['maker'] as string };
    case 'containment':
      return { ...none, maker: (statement['maker'] as string | undefined) ?? null };
    case 'containment-progress':
    case 'containment-lift':
    case 'containment-unit':
      return {
        ...none,
        maker: (statement['maker'] as string | undefined) ?? null,
        concerns: statement['containment'] as string,
      };
    case 'lot':
    case 'intake':
    case 'scrapping':
    case 'return':
    case 'count':
      return { ...none, maker: makerIn('lot') };
    default:
      return none;
  }
}

function isObject(value: unknown): boolean {
  return typeof value === 'object' && value !== null;
}
