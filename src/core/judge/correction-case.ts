/** A correction beside the record that it replaces. */
export type CorrectionCase = {
  /** What is corrected: the kind as first recorded, whatever corrections came between; null: no reference. */
  readonly record: { readonly id: string; readonly of: string; readonly reference: string | null };
  /** The correction that has replaced it already. */
  readonly correctedBy: string | null;
  /** `void`: the record falls away; else the kind of record that stands in its place. */
  readonly kind: string;
  /** Of what stands in its place; null where it is void. */
  readonly reference: string | null;
  /** Whether it is about the units of the record; true where it is void. */
  readonly sameUnits: boolean;
};
