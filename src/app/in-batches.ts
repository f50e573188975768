/** Work that costs little more for many than for one: what waits at the same moment is done together. */

export type Batches = {
  /** Items of a batch. */
  readonly most: number;
  /** Batches under way. */
  readonly atOnce: number;
  /** Milliseconds that an item waits for a batch to take it. */
  readonly waitMs: number;
};

/**
 * An item that finds room begins with all that came in the same turn of the event loop, alone if it is alone; what comes
 * while all are busy is the next batch, in the order in which it came. `work` gives outcomes in the order of the items;
 * what it throws, all of its batch get. An item that waited too long is not worked on, and gets what `late` makes.
 */
export function inBatches<T, R>(
  { most, atOnce, waitMs }: Batches,
  work: (items: readonly T[]) => Promise<readonly R[]>,
  late: () => Error,
): (item: T) => Promise<R> {
  const waiting = new Set<Waiting<T, R>>();
  let busy = 0;
  let isTurning = false;
  /** Answers that leave together bring the next requests together: the first of them doesn't begin without the others. */
  const afterThisTurn = (): void => {
    if (isTurning) return;
    isTurning = true;
    setImmediate(() => {
      isTurning = false;
      while (waiting.size > 0 && busy < atOnce) void next();
    });
  };
  const next = async (): Promise<void> => {
    const batch = [...waiting].slice(0, most);
    for (const one of batch) {
      waiting.delete(one);
      clearTimeout(one.timer);
    }
    busy += 1;
    try {
      const outcomes = await work(batch.map(({ item }) => item));
      for (const [at, { resolve }] of batch.entries()) resolve(outcomes[at] as R);
    } catch (error) {
      for (const { reject } of batch) reject(error);
    }
    busy -= 1;
    afterThisTurn();
  };
  return (item) =>
    new Promise((resolve, reject) => {
      const timer = setTimeout(() => {
        waiting.delete(one);
        reject(late());
      }, waitMs);
      const one = { item, resolve, reject, timer };
      waiting.add(one);
      afterThisTurn();
    });
}

type Waiting<T, R> = {
  readonly item: T;
  readonly resolve: (outcome: R) => void;
  readonly reject: (error: unknown) => void;
  readonly timer: NodeJS.Timeout;
};
