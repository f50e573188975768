/** What waits at the same moment is done together. */
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { inBatches } from '../../src/app/in-batches.ts';

const late = () => new Error('late');
const soon = () => new Promise<void>((resolve) => setImmediate(resolve));

/** Work that ends when it is told to, and what it was given. */
function heldWork() {
  const batches: number[][] = [];
  const ends: (() => void)[] = [];
  const work = async (items: readonly number[]) => {
    batches.push([...items]);
    await new Promise<void>((resolve) => ends.push(resolve));
    if (items.includes(13)) throw new Error('thirteen');
    return items.map((item) => item * 10);
  };
  const end = async () => {
    ends.shift()?.();
    await soon();
  };
  return { batches, work, end };
}

describe('in batches', () => {
  it('begins at once while there is room; what comes meanwhile is the next batch, in the order in which it came', async () => {
    const { batches, work, end } = heldWork();
    const add = inBatches({ most: 3, atOnce: 2, waitMs: 60_000 }, work, late);
    const all = Promise.all([1, 2, 3, 4, 5, 6].map(add));
    expect(batches).toEqual([[1], [2]]);
    await end();
    expect(batches).toEqual([[1], [2], [3, 4, 5]]);
    await end();
    expect(batches).toEqual([[1], [2], [3, 4, 5], [6]]);
    await end();
    await end();
    expect(await all).toEqual([10, 20, 30, 40, 50, 60]);
  });

  it('what a batch throws its items get and no others, and the next one begins', async () => {
    const { work, end } = heldWork();
    const add = inBatches({ most: 2, atOnce: 1, waitMs: 60_000 }, work, late);
    const all = Promise.allSettled([1, 13, 2, 3].map(add));
    for (let nth = 0; nth < 3; nth++) await end();
    expect((await all).map((one) => (one.status === 'fulfilled' ? one.value : one.reason.message))).toEqual([
      ...[10, 'thirteen', 'thirteen', 30],
    ]);
  });

  it('an item that finds no room in time is told so, and is not worked on', async () => {
    const { batches, work, end } = heldWork();
    const add = inBatches({ most: 2, atOnce: 1, waitMs: 20 }, work, late);
    const first = add(1);
    await expect(add(2)).rejects.toThrow('late');
    await pause(20);
    const third = add(3);
    await end();
    await end();
    expect([await first, await third]).toEqual([10, 30]);
    expect(batches).toEqual([[1], [3]]);
  });
});
