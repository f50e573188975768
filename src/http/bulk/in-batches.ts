/** Gathers what comes in one by one, but never makes what has come wait for what has not. */
import { setTimeout as pause } from 'node:timers/promises';

/** Lists of one to `most`; a list that is not full is handed on when `patienceMs` have passed since its first entry. */
export async function* inBatches<T>(
  items: AsyncGenerator<T, void, undefined>,
  most: number,
  patienceMs: number,
): AsyncGenerator<T[], void, undefined> {
  let next = asked(items);
  try {
    for (;;) {
      const first = await next;
      if (first.done === true) return;
      const batch = [first.value];
      next = asked(items);
      // Of this batch alone: whoever races against a promise that never ends stays in its memory for ever.
      const deadline = new AbortController();
      const late = lateAfter(patienceMs, deadline.signal);
      while (batch.length < most) {
        const got = await Promise.race([next, late]);
        if (got === 'late' || got.done === true) break;
        batch.push(got.value);
        next = asked(items);
      }
      deadline.abort();
      yield batch;
    }
  } finally {
    // Not waited for: it ends when what was asked for last has come or failed.
    items.return().catch(() => {});
  }
}

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
