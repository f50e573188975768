/** What a command found. */
export type Outcome = {
  /** What is shown where nothing is wrong. */
  readonly proven: string;
  /** A sentence for each thing that is not as it should be, with its place. */
  readonly faults: readonly string[];
  /** What somebody may think is shown by this, and isn't. */
  readonly notShown: readonly string[];
};

/** The command was called wrongly. */
export class UsageError extends Error {}

/** What was given can't be read as what it should be: nothing is said of what it claims. */
export class Unreadable extends Error {}

/** Text of somebody else on a terminal: without control characters and marks that turn the reading direction. */
export function printable(text: string): string {
  return text.replaceAll(/[^\P{C}\n]/gu, '?');
}
