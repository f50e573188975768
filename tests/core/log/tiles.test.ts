/** Tiles against C2SP tlog-tiles: its names, its widths, and the tree that they are of. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bundleOf,
  entriesIn,
  hashesIn,
  hashOfMany,
  mostLevel,
  pathOf,
  placeOf,
  tileAt,
  tileIn,
  tilesOf,
  tilesSince,
  tileWidth,
} from '../../../src/core/log/tiles.ts';
import { nodesOf } from '../../../src/core/log/tree.ts';
import { mth } from './slow-tree.ts';

describe('the tiles of a tree', () => {
  it('of 70,000 leaves are those of the example in tlog-tiles', () => {
    const tiles = [...tilesOf(70_000)];
    const at = (level: number) => tiles.filter((one) => one.level === level).map(({ width }) => width);
    expect(at(0)).toEqual([...Array.from({ length: 273 }, () => 256), 112]);
    expect(at(1)).toEqual([256, 17]);
    expect(at(2)).toEqual([1]);
    expect(at(3)).toEqual([]);
  });

  it('of 256 leaves are one full tile and one of a single hash (tlog-tiles)', () => {
    expect([...tilesOf(256)]).toEqual([
      { level: 0, index: 0, width: 256 },
      { level: 1, index: 0, width: 1 },
    ]);
  });

  it('that came since are those that another size does not have as they are', () => {
    const size = fc.integer({ min: 0, max: 200_000 });
    fc.assert(
      fc.property(size, size, (a, b) => {
        const [from, to] = [Math.min(a, b), Math.max(a, b)];
        const before = new Set([...tilesOf(from)].map((tile) => JSON.stringify(tile)));
        const since = [...tilesOf(to)].filter((tile) => !before.has(JSON.stringify(tile)));
        expect([...tilesSince(from, to)]).toEqual(since);
      }),
    );
  });

  it('hold every node that a proof can ask for', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 3_000 }), (size) => {
        const entries = Array.from({ length: size }, (_, at) => Buffer.from(String(at)));
        for (const node of nodesOf({ begin: 0, end: size })) {
          const { level, tile, first, count } = placeOf(node);
          expect(first + count).toBeLessThanOrEqual(tileIn(size, level, tile)?.width ?? 0);
          const start = (tile * tileWidth + first) * tileWidth ** level;
          const hashes = Array.from({ length: count }, (_, at) =>
            mth(entries.slice(start + at * tileWidth ** level, start + (at + 1) * tileWidth ** level)),
          );
          const { level: height, index } = node;
          expect(hashOfMany(hashes)).toEqual(mth(entries.slice(index * 2 ** height, (index + 1) * 2 ** height)));
        }
      }),
      { numRuns: 20 },
    );
  });
});

describe('the path of a tile', () => {
  it.each([
    // The index of the example in tlog-tiles.
    ['tile/0/x001/x234/067', { of: 'hashes', level: 0, index: 1_234_067, width: 256 }],
    ['tile/1/000.p/17', { of: 'hashes', level: 1, index: 0, width: 17 }],
    ['tile/entries/x001/000', { of: 'entries', level: 0, index: 1_000, width: 256 }],
    ['tile/entries/999.p/255', { of: 'entries', level: 0, index: 999, width: 255 }],
  ] as const)('%s', (path, asked) => {
    expect(pathOf(asked)).toBe(path);
    expect(tileAt(path)).toEqual(asked);
  });

  it.each([
    'tile/0/0',
    'tile/0/00',
    'tile/00/000',
    'tile/0/x000/001',
    'tile/0/001/001',
    'tile/0/x001',
    'tile/0/000.p/0',
    'tile/0/000.p/256',
    'tile/0/000.p/01',
    `tile/${mostLevel + 1}/000`,
    'tile/64/000',
    'tile/-1/000',
    'tile/entries/x999/x999/x999/x999/x999/999',
    'tile/0/000/',
    '/tile/0/000',
    'tile/data/000',
    '',
  ])('is not %s', (path) => {
    expect(tileAt(path)).toBeNull();
  });
});

describe('a bundle of entries', () => {
  it('is each after its length, two bytes, the larger first (tlog-tiles)', () => {
    expect(bundleOf([Buffer.from('a'), Buffer.alloc(0), Buffer.alloc(300, 7)]).subarray(0, 7)).toEqual(
      Buffer.from([0, 1, 97, 0, 0, 1, 44]),
    );
  });

  it('reads back as it was, and is no bundle where the last is not whole', () => {
    fc.assert(
      fc.property(fc.array(fc.uint8Array({ maxLength: 50 })), (entries) => {
        const bundle = bundleOf(entries);
        expect(entriesIn(bundle)?.map((one) => [...one])).toEqual(entries.map((one) => [...one]));
        if (bundle.length === 0) return;
        const last = entriesIn(bundle.subarray(0, -1));
        expect(last === null || last.length < entries.length).toBe(true);
      }),
    );
    expect(entriesIn(Buffer.from([0]))).toBeNull();
    expect(entriesIn(Buffer.from([0, 2, 1]))).toBeNull();
    expect(() => bundleOf([Buffer.alloc(65_536)])).toThrow(RangeError);
  });
});

it('a tile is hashes one after the other', () => {
  const hashes = [Buffer.alloc(32, 1), Buffer.alloc(32, 2)];
  expect(hashesIn(Buffer.concat(hashes)).map((one) => [...one])).toEqual(hashes.map((one) => [...one]));
});
