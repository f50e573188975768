/** What is said of which unit is which, beside what the records have. */
import type { UnitState } from '../history/fold.ts';
import type { IdentityBody } from '../records/bodies.ts';

export type NamedUnit = {
  readonly state: UnitState;
  readonly name: string | null;
  /** When the last of what is recorded on it was done. */
  readonly lastDone: string;
};

export type IdentityCase = {
  readonly fact: string;
  readonly body: IdentityBody;
  /** What it is about: of an exchange the pump. */
  readonly unit: NamedUnit;
  /** Of an exchange the control that is on the pump now; of a merging the unit that turns out to be the same. */
  readonly other: NamedUnit | null;
  /** Of an exchange the pump that the records have under that control. */
  readonly otherPump: string | null;
  /** Of the new serial or tag: what it leads to already. */
  readonly nameTakenBy: string | null;
  readonly referenceUsedBy: string | null;
  readonly shopIsKnown: boolean;
  readonly technicianIsKnown: boolean;
  readonly performed: { readonly from: string; readonly to: string };
  readonly now: string;
};
