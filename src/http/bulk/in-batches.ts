/** Gathers what comes in one by one, but never makes what has come wait for what has not. */
import { setTimeout as pause } from 'node:timers/promises';

/** Lists of one to `most`; a list that is not full is handed on when `patienceMs` have passed since its first entry. */
export async function* inBatches<T>(
  items: AsyncGenerator<T, void, undefined>,
  most: number,
  patienceMs: number,
): AsyncGenerator<T[], void, undefined> {
  let batch: T[] = [];
  let deadline = new AbortController();
  let late = never;
  let next = asked(items);
  try {
    for (;;) {
      const got = await Promise.race([next, late]);
      if (got !== 'late') {
        if (got.done === true) break;
        batch.push(got.value);
        next = asked(items);
        if (batch.length === 1) late = lateAfter(patienceMs, deadline.signal);
        if (batch.length < most) continue;
      }
      deadline.abort();
      deadline = new AbortController();
      late = never;
      yield batch.splice(0);
    }
    if (batch.length > 0) yield batch;
  } finally {
    deadline.abort();
    batch = [];
    await items.return();
  }
}

const never = new Promise<'late'>(() => {});

/** Whoever waits for it hears of an error; until somebody does, it must not end the process. */
function asked<T>(items: AsyncGenerator<T, void, undefined>): Promise<IteratorResult<T, void>> {
  const next = items.next();
  next.catch(() => {});
  return next;
}

async function lateAfter(ms: number, signal: AbortSignal): Promise<'late'> {
  await pause(ms, undefined, { signal }).catch(() => {});
  return 'late';
}
