/** Lines of an upload, cut and gathered. */
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { inBatches } from '../../src/http/bulk/in-batches.ts';
import { splitLines } from '../../src/http/bulk/split-lines.ts';

async function* from<T>(...items: (T | { wait: number } | Error)[]): AsyncGenerator<T, void, undefined> {
  for (const item of items) {
    if (item instanceof Error) throw item;
    if (typeof item === 'object' && item !== null && 'wait' in item) await pause(item.wait);
    else yield item as T;
  }
}
async function all<T>(items: AsyncGenerator<T, void, undefined>): Promise<T[]> {
  const got: T[] = [];
  for await (const item of items) got.push(item);
  return got;
}

describe('what comes one by one', () => {
  it('is gathered up to so many, in order', async () => {
    expect(await all(inBatches(from(1, 2, 3, 4, 5), 2, 10_000))).toEqual([[1, 2], [3, 4], [5]]);
    expect(await all(inBatches(from(), 2, 10_000))).toEqual([]);
  });

  it('does not wait for what does not come', async () => {
    expect(await all(inBatches(from<number>(1, 2, { wait: 200 }, 3), 9, 10))).toEqual([[1, 2], [3]]);
  });

  it('is handed on before an error that comes after it', async () => {
    const got: number[][] = [];
    const batches = inBatches(from<number>(1, 2, { wait: 50 }, new Error('cut')), 9, 5);
    await expect(
      (async () => {
        for await (const batch of batches) got.push(batch);
      })(),
    ).rejects.toThrow('cut');
    expect(got).toEqual([[1, 2]]);
  });
});

describe('a body', () => {
  const lines = async (chunks: string[], most = 10) => {
    const got = await all(splitLines(from(...chunks.map((chunk) => Buffer.from(chunk))), most));
    return got.map(({ number, bytes }) => [number, bytes === null ? null : String(bytes)]);
  };

  it('is cut at line feeds, wherever the network cut it', async () => {
    const whole = [
      [1, 'ab'],
      [2, 'cd'],
      [4, 'ef'],
    ];
    expect(await lines(['ab\ncd\n\nef'])).toEqual(whole);
    expect(await lines([...'ab\ncd\n \nef\n'])).toEqual(whole);
    expect(await lines(['ab\r', '\ncd\n\t', '\r\nef'])).toEqual([
      [1, 'ab\r'],
      [2, 'cd'],
      [4, 'ef'],
    ]);
    expect(await lines([])).toEqual([]);
  });

  it('keeps of a line that is too long nothing but its number, and loses none of the others', async () => {
    expect(await lines(['short\n', '0123456789', '0', '\nlater'])).toEqual([
      [1, 'short'],
      [2, null],
      [3, 'later'],
    ]);
    expect(await lines(['0123456789\n01234567890'])).toEqual([
      [1, '0123456789'],
      [2, null],
    ]);
  });
});
