/** What is wrong with an edition, and where. */

export type Problem = {
  /** JSON pointer (RFC 6901) into the edition as it was sent; empty for the whole of it. */
  readonly pointer: string;
  readonly detail: string;
};

export type Path = readonly (string | number)[];

export function problem(path: Path, detail: string): Problem {
  return { pointer: pointerTo(path), detail };
}

/** RFC 6901: `~` and `/` inside a name are written `~0` and `~1`. */
export function pointerTo(path: Path): string {
  return path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
}

/** The same said once, in the order of its first mention. */
export function distinct(problems: readonly Problem[]): Problem[] {
  return [...new Map(problems.map((one) => [`${one.pointer} ${one.detail}`, one])).values()];
}
