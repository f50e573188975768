/** Work that is done one after the other, so that a request never holds more than one connection of the pool. */
export function inTurn(): <T>(work: () => Promise<T>) => Promise<T> {
  let last: Promise<unknown> = Promise.resolve();
  return (work) => {
    const done = last.then(work);
    last = done.catch(() => {});
    return done;
  };
}
