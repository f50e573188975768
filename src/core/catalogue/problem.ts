/** What is wrong with an edition, and where. */
import { pointerOf } from '../json/pointer.ts';

export type Problem = {
  /** JSON pointer (RFC 6901) into the edition as it was sent; empty for the whole of it. */
  readonly pointer: string;
  readonly detail: string;
};

export type Path = readonly PropertyKey[];

export function problem(path: Path, detail: string): Problem {
  return { pointer: pointerOf(path), detail };
}

/** The same said once, in the order of its first mention. */
export function distinct(problems: readonly Problem[]): Problem[] {
  return [...new Map(problems.map((one) => [`${one.pointer} ${one.detail}`, one])).values()];
}
