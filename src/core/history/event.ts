/** What a fact did to one unit, without its evidence: no lot, person, instrument, reading, note or owner. */
import type { Rotation } from '../catalogue/edition.ts';
import type { Content } from '../fit/fit.ts';
import type { BuiltFor } from '../fit/target-function.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Clear, Severity } from '../rules/finding.ts';
import type { Concession } from './concession.ts';

export type UnitKind = 'pump' | 'control';

/** A hold or due as it stands on the unit: the rule and what clears it, never the evidence. */
export type OpenFinding = {
  readonly rule: string;
  readonly severity: Extract<Severity, 'hold' | 'due'>;
  readonly pointer: string;
  /** Of a containment: what is to be done. It is for everybody who has the unit. */
  readonly instruction?: string;
  readonly clearedBy: readonly Clear[];
};

/** The dues of this record that this evidence would clear. */
export type HandedOver = { readonly fact: string; readonly clear: Clear };

export type Birth =
  | {
      readonly kind: 'pump';
      readonly series: string;
      readonly size: string;
      readonly rotation: Rotation;
      readonly fluid: string | null;
    }
  | { readonly kind: 'control'; readonly body: string };

export type Effect = {
  readonly born?: Birth;
  /** Since when the unit exists; without it existence is unbounded. */
  readonly builtAt?: string;
  /** Station contents stated one by one as found when the work began. */
  readonly found?: Readonly<Record<string, Content>>;
  /** Station contents as the work left them; only those that changed. */
  readonly changed?: Readonly<Record<string, Content>>;
  readonly function?: string | null;
  readonly builtFor?: BuiltFor;
  readonly mounted?: { readonly with: string; readonly on: boolean };
  /** Settings of the pair of this control and its pump; null: disturbed and not set again. */
  readonly settings?: Readonly<Record<string, Quantity | null>>;
  /** Values of the circuit that the pair works in, by name, as stated. */
  readonly circuit?: Readonly<Record<string, Quantity>>;
  /** Of a correction: the record that doesn't count any more. */
  readonly replaces?: string;
  /** Of a later judgement on a record: this effect counts in place of that record's own. */
  readonly judges?: string;
  /**
   * Of a later judgement: the place that the record has on a unit which it didn't touch itself, as it turns out to have been
   * mounted then; null: it didn't touch this unit after all.
   */
  readonly placed?: Placed | null;
  /** Two units that turned out to be one: this goes on as that one; that one has become this. */
  readonly mergedInto?: string;
  readonly merges?: string;
  /** Where it is, as a movement says: in at the shop that says so, or out of it. Which shop, only the record says. */
  readonly custody?: 'in' | 'out';
  /** Of what came in: the records of work that were held because nobody had said so. */
  readonly covers?: readonly string[];
  /** Out of use for good. */
  readonly retired?: true;
  /** Its running hours, as read. */
  readonly hours?: Quantity;
  /** Dues that a named party has taken over. */
  readonly handsOver?: readonly HandedOver[];
  /** Of a concession with limits or an end: the findings that it is for. With null it is taken back. */
  readonly concedes?: { readonly clear: Clear; readonly concession: Concession | null };
  readonly opens?: readonly OpenFinding[];
  readonly clears?: readonly Clear[];
};

/** Where a record stands among what else was done to a unit. */
export type Placed = Pick<UnitEvent, 'kind' | 'performedFrom' | 'performedTo' | 'recordedAt' | 'after'>;

export type UnitEvent = {
  readonly unit: string;
  readonly seq: number;
  readonly prev: string | null;
  readonly fact: string;
  readonly kind: string;
  readonly performedFrom: string;
  readonly performedTo: string;
  readonly recordedAt: string;
  readonly after: string | null;
  readonly effect: Effect;
};

/** What one record does to one of its units. */
export type UnitEffect = { readonly unit: string; readonly effect: Effect };
