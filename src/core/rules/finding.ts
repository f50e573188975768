/** What a rule says of a record. */

export const severities = ['refuse', 'hold', 'due', 'note'] as const;
export type Severity = (typeof severities)[number];

/** What would clear a finding: later evidence of this kind at this place. */
export const clearKinds = [
  'torque',
  'seal',
  'setting',
  'check',
  'measurement',
  /** A value of the circuit with which every relation of the function holds that it stands in. */
  'circuit',
  /** A check said not to apply, with its reason. */
  'not-applicable',
  'content',
  /** Everything at a station taken out, and what is there now put in by the same record. */
  'part',
  'function',
  /** The unit received by who worked on it: the place says whether it is the control or the pump. */
  'custody',
  'disposition',
  'correction',
  /** Progress or a lifting: the place is the containment. */
  'containment',
  /** What is known of stock and people: with it the record is judged again, so no event clears these. */
  'calibration',
  'intake',
  'authorisation',
  'approval',
] as const;
export type ClearKind = (typeof clearKinds)[number];
/** Clears whose place names an instrument, a lot, a person or a shop: they stay with the finding, and out of unit events. */
export const stockClears: readonly ClearKind[] = ['calibration', 'intake', 'authorisation', 'approval'];
export type Clear = { readonly kind: ClearKind; readonly place: string };

export type Finding = {
  readonly rule: string;
  readonly severity: Severity;
  /** JSON pointer into the record as sent. */
  readonly pointer: string;
  readonly expected: string | null;
  readonly found: string | null;
  readonly because: string;
  /** Any one of these clears it. Empty for what is not held or due. */
  readonly clearedBy: readonly Clear[];
  readonly text: string;
};
