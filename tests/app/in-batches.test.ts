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
    // Once that is known, and once more for the batch that begins in the turn after.
    await soon();
    await soon();
  };
  return { batches, work, end };
}

describe('in batches', () => {
  it('begins what came together while there is room; what comes meanwhile is the next batch, in the order in which it came', async () => {
    const { batches, work, end } = heldWork();
    const add = inBatches({ most: 3, atOnce: 2, waitMs: 60_000 }, work, late);
    const alone = add(1);
    await soon();
    const all = Promise.all([2, 3, 4, 5, 6, 7].map(add));
    await soon();
    expect(batches).toEqual([[1], [2, 3, 4]]);
    await end();
    expect(batches).toEqual([[1], [2, 3, 4], [5, 6, 7]]);
    await end();
    await end();
    expect([await alone, ...(await all)]).toEqual([10, 20, 30, 40, 50, 60, 70]);
  });

  it('of what came together no more than a batch holds is in one, and the rest begins beside it', async () => {
    const { batches, work, end } = heldWork();
    const add = inBatches({ most: 3, atOnce: 2, waitMs: 60_000 }, work, late);
    const all = Promise.all([1, 2, 3, 4].map(add));
    await soon();
    expect(batches).toEqual([[1, 2, 3], [4]]);
    await end();
    await end();
    expect(await all).toEqual([10, 20, 30, 40]);
  });

  it('what a batch throws its items get and no others, and the next one begins', async () => {
    const { work, end } = heldWork();
    const add = inBatches({ most: 2, atOnce: 1, waitMs: 60_000 }, work, late);
    const first = add(1);
    await soon();
    const all = Promise.allSettled([13, 2, 3].map(add));
    for (let nth = 0; nth < 3; nth++) await end();
    expect((await all).map((one) => (one.status === 'fulfilled' ? one.value : one.reason.message))).toEqual([
      ...['thirteen', 'thirteen', 30],
    ]);
    expect(await first).toBe(10);
  });

  it('an item that finds no room in time is told so, and is not worked on', async () => {
    const { batches, work, end } = heldWork();
    const add = inBatches({ most: 2, atOnce: 1, waitMs: 20 }, work, late);
    const first = add(1);
    await soon();
    await expect(add(2)).rejects.toThrow('late');
    await pause(20);
    const third = add(3);
    await end();
    await end();
    expect([await first, await third]).toEqual([10, 30]);
    expect(batches).toEqual([[1], [3]]);
  });
});
