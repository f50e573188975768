/** A decision: what a request leads to, before it gets its time, its place in the chain of its units and its receipt. */
import type { UnitEffect, UnitKind } from '../../core/history/event.ts';
import type { Finding } from '../../core/rules/finding.ts';
import type { Interval } from '../../core/time/instant.ts';
import type { Erasure } from '../../store/sql/erase-person.ts';
import type { Row } from '../../store/sql/insert-rows.ts';
import type { ClaimRows } from '../derived/claim-rows.ts';
import type { LeaveRows } from '../derived/leave-rows.ts';
import type { MoveRow } from '../derived/move-rows.ts';
import type { Touched } from '../judging/touched.ts';
import type { Refusal } from './request.ts';

export type Decision =
  | { readonly decided: 'keep'; readonly draft: Draft }
  /** Refused by the rules: the body is kept as an attempt. */
  | {
      readonly decided: 'refuse';
      readonly findings: readonly Finding[];
      readonly extra?: Readonly<Record<string, unknown>>;
    }
  /** Refused before the rules: nothing is kept. */
  | { readonly decided: 'reject'; readonly refusal: Refusal }
  /** The same was kept before: its answer again. */
  | { readonly decided: 'repeat'; readonly status: 200 | 201; readonly answer: string; readonly replayed: boolean };

export type MovedName = {
  readonly maker: string;
  readonly unit_kind: UnitKind;
  readonly name_kind: 'serial' | 'tag' | 'former' | 'free';
  readonly name_key: string;
  readonly as_written: string;
  readonly unit_id: string;
  readonly was: string;
};

export type Draft = {
  readonly kind: string;
  readonly maker: string | null;
  readonly edition: string | null;
  readonly performed: Interval | 'when recorded';
  readonly after: string | null;
  /** The fact that this one answers. */
  readonly concerns: string | null;
  readonly statement: unknown;
  readonly judgement: unknown;
  /** Free text and what else may be erased; null: none. */
  readonly private: unknown;
  readonly effects: readonly UnitEffect[];
  readonly newUnits: readonly { readonly unit: string; readonly maker: string; readonly kind: UnitKind }[];
  readonly names: readonly Omit<Row<'unit_names'>, 'fact'>[];
  /** Names that come to lead elsewhere, each with the fact that it was last led by. */
  readonly moved?: readonly MovedName[];
  readonly uses: readonly Omit<Row<'part_uses'>, 'owner' | 'fact' | 'line'>[];
  readonly reference: { readonly kind: string; readonly reference: string } | null;
  readonly stock?: {
    readonly kind: string;
    readonly key: string;
    readonly version: number;
    readonly fingerprint: string;
    readonly statement: unknown;
  };
  readonly person?: {
    readonly id: string;
    readonly ownId: string;
    readonly name: string | null;
    readonly subject: string | null;
  };
  readonly intake?: MoveRow;
  readonly instrumentEvent?: Omit<Row<'instrument_events'>, 'performed_from' | 'performed_to'>;
  readonly leave?: LeaveRows;
  readonly claim?: ClaimRows;
  readonly erases?: Omit<Erasure, 'owner'>;
  readonly edition_row?: Omit<Row<'editions'>, 'fact' | 'published_at'>;
  readonly registers?: { readonly unit: string; readonly fingerprint: string };
  /** Whose records are judged again once this is kept. */
  readonly judgesAgain?: readonly Touched[];
  readonly status: 200 | 201;
  /** Without what only a fact that is kept has: its id, which comes before these members, and its receipt, after. */
  readonly answer: object;
};

/** What a draft has nothing of, where it does not say otherwise. */
export const nothingElse = {
  edition: null,
  performed: 'when recorded',
  after: null,
  concerns: null,
  private: null,
  effects: [],
  newUnits: [],
  names: [],
  uses: [],
  reference: null,
} as const satisfies Partial<Draft>;
