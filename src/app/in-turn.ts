/** Work that takes no more than one connection of the pool at a time, however much of it comes at once. */

/** One after the other, in the order in which they are asked for. */
export function inTurn(): <T>(work: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const done = last.then(work);
    last = done.catch(() => {});
    return done;
  };
}

/** One run at a time, each for all that came in while the one before was under way. What it throws, all of those get. */
export function together<T>(work: (items: readonly T[]) => Promise<void>): (items: readonly T[]) => Promise<void> {
  const next = inTurn();
  let waiting: { readonly items: T[]; readonly done: Promise<void> } | null = null;
  return (items) => {
    if (waiting === null) {
      const gathered: T[] = [];
      const done = next(async () => {
        waiting = null;
        await work(gathered);
      });
      waiting = { items: gathered, done };
    }
    waiting.items.push(...items);
    return waiting.done;
  };
}
