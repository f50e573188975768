/**
 * A case: one record beside everything that it is judged against. Made by the `…-case.ts` file of each kind, read by
 * the rules. Nothing in it depends on anything but what was loaded.
 */
import type { Demand, Edition, RecordKind, Task } from '../catalogue/edition.ts';
import type { InstrumentEvent } from '../conformity/instrument-history.ts';
import type { Demanded } from '../fit/demand.ts';
import type { Fit } from '../fit/fit.ts';
import type { Layout } from '../fit/layout.ts';
import type { NoPlan } from '../fit/plan.ts';
import type { BuiltFor, PumpAtHand, Target } from '../fit/target-function.ts';
import type { UnitEvent } from '../history/event.ts';
import type { UnitState } from '../history/fold.ts';
import type { Leave } from '../people/leave.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { ConversionBody, MountingBody } from '../records/bodies.ts';
import type { InstrumentBody, LotBody } from '../records/stock-bodies.ts';
import type { Overdrawn } from '../stock/ledger.ts';

/** The kinds of record that rules judge. */
export type JudgedKind = RecordKind | 'registration';

/** `authorisations`: as far as an edition at hand asks for them. */
export type KnownPerson = {
  readonly id: string;
  readonly subject: string | null;
  readonly authorisations: readonly Authorisation[];
};
export type Authorisation = Leave & { readonly tasks: readonly Task[] };
export type Approval = Leave & { readonly shop: string };

/** `events`: its calibrations, checks and incidents, all that are known by now. */
export type KnownInstrument = {
  readonly fact: string;
  readonly statement: InstrumentBody;
  readonly events: readonly InstrumentEvent[];
};

/** What a distributor has stated of its shops, people, instruments and lots, by the ids that the shop uses. */
export type Known = {
  readonly shops: ReadonlySet<string>;
  readonly technicians: ReadonlyMap<string, KnownPerson>;
  /** What makers have approved of its shops, as far as an edition at hand asks for it. */
  readonly approvals: readonly Approval[];
  readonly instruments: ReadonlyMap<string, KnownInstrument>;
  readonly attachments: ReadonlySet<string>;
  /** By `lotKey`. */
  readonly lots: ReadonlyMap<string, { readonly fact: string; readonly statement: LotBody }>;
};

export type UnitAtHand = {
  readonly unit: string;
  /** How people call it: the serial as written, a tag, or "the control of pump …". */
  readonly name: string;
  readonly hasName: boolean;
  /** The state before the work, in the order of work. */
  readonly state: UnitState;
  /** Work recorded already that comes after this, in that order: a record that comes late is placed before it. */
  readonly later: readonly UnitEvent[];
  /** Its running hours as this record states them. */
  readonly hours: Quantity | null;
  /** Whether the records of who did the work have it at the shop that did it; unknown: nobody has said where it is. */
  readonly whereabouts: 'here' | 'elsewhere' | 'unknown';
};

/** The parts of a record that rules read; a kind that lacks one has it empty. */
export type JudgedRecord = Pick<
  ConversionBody,
  | 'removed'
  | 'fitted'
  | 'seals'
  | 'torques'
  | 'settings'
  | 'checks'
  | 'measurements'
  | 'circuit'
  | 'attachments'
  | 'found'
  | 'opened'
  | 'sheet'
> & {
  /** Null: a registration need not say who saw the unit, and where. */
  readonly technician: ConversionBody['technician'] | null;
  readonly shop: string | null;
  /** Undefined: the record declares no function. */
  readonly to: ConversionBody['to'] | undefined;
  readonly mounting: Pick<MountingBody, 'on' | 'tag'> | null;
};

export type Case = {
  readonly kind: JudgedKind;
  /** The id that this record gets when it is kept. */
  readonly fact: string;
  readonly record: JudgedRecord;
  readonly performed: { readonly from: string; readonly to: string };
  readonly now: string;
  readonly edition: Edition;
  /** The edition that was the newest in effect when the work was done, where it is another one. */
  readonly newerEdition: string | null;
  /** The record of the same owner that has this reference already. */
  readonly referenceUsedBy: string | null;
  /** Where `after` names a record of one of these units, or nothing is named: true. */
  readonly afterIsKnown: boolean;
  readonly known: Known;
  /** Lots of which something is known to have come into this shop, by `lotKey`: what this record took of each that wasn't there. */
  readonly stock: ReadonlyMap<string, readonly Overdrawn[]>;
  /** Parts with a serial that this record fits and that are in another place at that time, by the index of the line. */
  readonly twice: ReadonlyMap<number, string>;

  readonly control: UnitAtHand;
  readonly pump: UnitAtHand | null;
  /** The pump that the control is on for this work, as the catalogue knows it. */
  readonly pumpAtHand: PumpAtHand | null;
  /** Of a mounting: a control other than this one that the records have on the pump, and a pump that has this control. */
  readonly elsewhere: { readonly onPump: string | null; readonly underControl: string | null };
  /** Other work on these units that stands before this one and, for all that is said of times, may have come after it. */
  readonly sameTime: readonly UnitEvent[];
  /** Of a mounting: what its tag leads to already, where that is another control. */
  readonly tagTakenBy?: string | null;
  readonly builtFor: BuiltFor;

  readonly layout: Layout;
  /** What the records say is there, what was there when the work began, and what is there now; control and pump. */
  readonly before: Fit;
  /** What each station holds in the function that was stated as found; empty where none was. */
  readonly foundPattern: Readonly<Record<string, Demand>>;
  readonly found: Fit;
  readonly after: Fit;
  /** The function that the records say, that was found, and that is declared; undefined: not declared by this kind. */
  readonly functionBefore: string | null;
  readonly functionFound: string | null;
  readonly target: Target | NoPlan | null;
  /** What each station must hold, in the pattern of the declared function. */
  readonly pattern: Readonly<Record<string, Demand>>;
  readonly demanded: Demanded;
};
