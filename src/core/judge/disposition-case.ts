/** A disposition beside the record that it is about and the people who did the work. */
import type { UnitState } from '../history/fold.ts';
import type { DispositionBody } from '../records/disposition-body.ts';

export type DispositionCase = {
  readonly fact: string;
  readonly body: DispositionBody;
  /** The record decided about, and the units that it touched as they are now. */
  readonly record: { readonly id: string; readonly performedTo: string };
  readonly units: readonly UnitState[];
  /** Who did the work, with the token subject that each is tied to; null: not tied, or not known. */
  readonly doers: readonly { readonly subject: string | null }[];
  readonly asker: string;
  readonly referenceUsedBy: string | null;
  readonly performed: { readonly from: string; readonly to: string };
  readonly now: string;
};
