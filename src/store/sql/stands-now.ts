/**
 * That `finding`, as a state has it, stands when the transaction begins: under no concession, or one that has ended by then.
 * As core/history/concession.ts has it.
 */
export const standsNow = `(
  not finding ? 'concession'
  or (finding #>> '{concession,until}')::timestamptz <= transaction_timestamp())`;
