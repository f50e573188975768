/**
 * That `finding`, as a state has it, stands at a time: under no concession, or one that has ended by then. As
 * core/history/concession.ts has it.
 */
export const standsAt = (now: string) => `(
  not finding ? 'concession'
  or (finding #>> '{concession,until}')::timestamptz <= ${now})`;

/** When the transaction begins. */
export const standsNow = standsAt('transaction_timestamp()');
