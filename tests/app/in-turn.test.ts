/** Work that takes one connection at a time. */
import { describe, expect, it } from 'vitest';
import { inTurn, together } from '../../src/app/in-turn.ts';

const soon = () => new Promise<void>((resolve) => setImmediate(resolve));

describe('in turn', () => {
  it('nothing begins before what was asked for earlier is over, failed or not', async () => {
    const turn = inTurn();
    const said: string[] = [];
    const work = (name: string, fails: boolean) => async () => {
      said.push(`${name} begins`);
      await soon();
      said.push(`${name} ends`);
      if (fails) throw new Error(name);
    };
    const all = await Promise.allSettled([turn(work('a', true)), turn(work('b', false))]);
    expect(said).toEqual(['a begins', 'a ends', 'b begins', 'b ends']);
    expect(all.map((one) => one.status)).toEqual(['rejected', 'fulfilled']);
  });
});

describe('together', () => {
  it('what comes in while one run is under way is the next run, whole', async () => {
    const runs: number[][] = [];
    const add = together<number>(async (items) => {
      runs.push([...items]);
      await soon();
    });
    const first = add([1]);
    await Promise.resolve();
    await Promise.resolve();
    await Promise.all([first, add([2]), add([3, 4]), add([])]);
    await add([5]);
    expect(runs).toEqual([[1], [2, 3, 4], [5]]);
  });

  it('what a run throws goes to those whose run it was, and the next one is another', async () => {
    const add = together<number>(async (items) => {
      await soon();
      if (items.includes(2)) throw new Error('two');
    });
    const first = add([1]);
    await Promise.resolve();
    await Promise.resolve();
    const all = await Promise.allSettled([first, add([2]), add([3])]);
    expect(all.map((one) => one.status)).toEqual(['fulfilled', 'rejected', 'rejected']);
    await expect(add([4])).resolves.toBeUndefined();
  });
});
