/** Numbers that look drawn and follow from a seed. */
export type Random = {
  /** From 0 up to but without 1. */
  readonly next: () => number;
  /** A whole number from 0 up to but without `end`. */
  readonly below: (end: number) => number;
  /** One of these. */
  readonly of: <One>(some: readonly One[]) => One;
  /** Whether what happens once in so many times happens. */
  readonly oneIn: (times: number) => boolean;
};

/** mulberry32: 32 bits of state, from memory; how well it is spread matters little here. */
export function randomFrom(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (end: number) => Math.floor(next() * end);
  return {
    next,
    below,
    of: <One>(some: readonly One[]) => {
      if (some.length === 0) throw new Error('there is nothing to choose from');
      return some[below(some.length)] as One;
    },
    oneIn: (times) => below(times) === 0,
  };
}
