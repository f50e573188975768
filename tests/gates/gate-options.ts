/** What a gate was asked for on its command line, as its tests read it. */
import { inject } from 'vitest';

export type GateOptions = {
  /** Everything that is drawn follows from it. */
  readonly seed: number;
  /** Of `isolation`: requests of mixed traffic. */
  readonly requests: number;
  /** Of `bad-input`: cases an operation. */
  readonly cases: number;
  /** Of `plans`: records of the history that is asked. Of `crash`: how many are acknowledged at least. */
  readonly records: number;
  /** Of `audit`: changes to the database. */
  readonly changes: number;
  /** Of `log`: leaves that get their places. */
  readonly leaves: number;
  /** Of `crash`. */
  readonly kills: number;
};

declare module 'vitest' {
  interface ProvidedContext {
    gate: GateOptions;
  }
}

export const gate: GateOptions = inject('gate');

/** A line of the gate's report. */
export function tell(line: string): void {
  console.log(`  ${line}`);
}
