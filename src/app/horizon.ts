/** Up to when what was known can't change any more: a question about that has one answer for ever. */
import { addMicroseconds } from '../core/time/instant.ts';
import { recordingTimeouts } from './recording/record-all.ts';

/** A second beyond the longest recording: what is older than that can't change any more. */
const settledAfter = (recordingTimeouts.transactionMs + 1_000) * 1_000;

export type Settled = {
  /** What was answered for: the horizon where later was asked, null where nothing was. */
  readonly known: string | null;
  readonly settled: boolean;
  readonly horizon: string;
};

/** @param now when the reading began */
export function settledFor(known: string | null, now: string): Settled {
  const horizon = addMicroseconds(now, -settledAfter);
  return { known: known !== null && known > horizon ? horizon : known, settled: known !== null, horizon };
}
