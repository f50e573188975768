/** A whole log reckoned anew: it is what is signed, or the place is named where it isn't. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Checkpoint } from '../../../src/core/log/checkpoint.ts';
import { filesOf, mostBytes, Recount, type RecountFault } from '../../../src/core/log/recount.ts';
import { bundleOf, pathOf, type TileAsked, tilesOf } from '../../../src/core/log/tiles.ts';
import { mth } from './slow-tree.ts';
import { strangers } from './small-log.ts';

const entries = strangers(70_000).map((entry) => Buffer.from(entry, 'hex'));
const headOf = (size: number, some = entries): Checkpoint => ({
  ...{ origin: 'asfitted', size, root: mth(some.slice(0, size)) },
});

/** The files of a log as tlog-tiles defines them, from the hashes of RFC 6962. */
function written(size: number, some = entries): Map<string, Buffer> {
  const files = new Map<string, Buffer>();
  for (const tile of tilesOf(size)) {
    const each = 256 ** tile.level;
    const from = tile.index * 256;
    const hashes = Array.from({ length: tile.width }, (_, at) =>
      mth(some.slice((from + at) * each, (from + at + 1) * each)),
    );
    files.set(pathOf({ ...tile, of: 'hashes' }), Buffer.concat(hashes));
    if (tile.level === 0) files.set(pathOf({ ...tile, of: 'entries' }), bundleOf(some.slice(from, from + tile.width)));
  }
  return files;
}

function faultsOf(files: Map<string, Uint8Array>, head: Checkpoint, since: Checkpoint | null = null): RecountFault[] {
  const recount = new Recount(head, since);
  const faults = recount.begin();
  for (const asked of filesOf(head.size)) {
    if (recount.isCut) return faults;
    faults.push(...recount.take(asked, files.get(pathOf(asked)) ?? null));
  }
  return recount.isCut ? faults : [...faults, ...recount.end()];
}
const shortly = (faults: readonly RecountFault[]) => faults.map(({ fault, path, at }) => [fault, path, at]);
const bundle = 'tile/entries/002.p/88';

describe('the files that are needed', () => {
  it('are those of the tree, each after those that it is reckoned from', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 200_000 }), (size) => {
        const asked = [...filesOf(size)];
        const hashes = asked.filter(({ of }) => of === 'hashes').map(({ of: _, ...tile }) => JSON.stringify(tile));
        expect(hashes.toSorted()).toEqual([...tilesOf(size)].map((tile) => JSON.stringify(tile)).toSorted());
        const places = new Map(asked.map((one, at) => [pathOf(one), at]));
        for (const one of asked) {
          const below: TileAsked =
            one.level === 0
              ? { ...one, of: 'entries' }
              : { of: 'hashes', level: one.level - 1, index: one.index * 256 + one.width - 1, width: 256 };
          expect(places.get(pathOf(below))).toBeLessThanOrEqual(places.get(pathOf(one)) as number);
        }
      }),
      { numRuns: 20 },
    );
  });

  it('have no more bytes than their entries and hashes of 32', () => {
    expect(mostBytes({ of: 'entries', level: 0, index: 0, width: 3 })).toBe(3 * 34);
    expect(mostBytes({ of: 'hashes', level: 1, index: 0, width: 3 })).toBe(3 * 32);
  });
});

describe('a log', () => {
  it.each([0, 1, 255, 256, 257, 512, 600, 70_000])('of %d leaves is what is signed', (size) => {
    expect(faultsOf(written(size), headOf(size))).toEqual([]);
  });

  it.each([0, 1, 255, 256, 257, 300, 512, 513, 600])('begins with that of %d', (size) => {
    expect(faultsOf(written(600), headOf(600), headOf(size))).toEqual([]);
    const other = { ...headOf(size), root: Buffer.alloc(32, 1) };
    expect(faultsOf(written(600), headOf(600), other)).toMatchObject([
      { fault: 'older-root-differs', path: 'checkpoint', at: size, expected: '01'.repeat(32) },
    ]);
  });

  it('that lost leaves, or is another, is read no further', () => {
    expect(faultsOf(new Map(), headOf(5), headOf(6))).toEqual([
      { fault: 'log-shorter', path: 'checkpoint', at: null, expected: '6', found: '5' },
    ]);
    expect(faultsOf(new Map(), headOf(5), { ...headOf(5), origin: 'another' })).toEqual([
      { fault: 'checkpoint-of-another-log', path: 'checkpoint', at: null, expected: 'another', found: 'asfitted' },
    ]);
  });

  it.each<[string, string, (bytes: Buffer) => Uint8Array, object]>([
    ['a bundle cut off', bundle, (bytes) => bytes.subarray(0, -1), ['bundle-not-whole', bundle, null]],
    ['a leaf dropped', bundle, (bytes) => bytes.subarray(0, -34), ['entries-too-many-or-few', bundle, null]],
    ['a leaf added', bundle, (b) => Buffer.concat([b, b.subarray(0, 34)]), ['entries-too-many-or-few', bundle, null]],
    [
      'a short entry',
      bundle,
      (b) => Buffer.concat([b.subarray(0, 34), Buffer.from([0, 1, 7]), b.subarray(68)]),
      ['entry-of-wrong-length', bundle, 1],
    ],
  ])('with %s is reckoned no further', (_, path, change, fault) => {
    const files = written(600);
    files.set(path, Buffer.from(change(files.get(path) as Buffer)));
    expect(shortly(faultsOf(files, headOf(600)))).toEqual([fault]);
  });

  it('is reckoned no further where a bundle is missing, and further where a tile is', () => {
    const files = written(600);
    files.delete('tile/0/001');
    expect(shortly(faultsOf(files, headOf(600)))).toEqual([['file-missing', 'tile/0/001', null]]);
    const large = new Recount(headOf(600));
    const [asked] = filesOf(600);
    expect(shortly(large.take(asked as TileAsked, 'too-much'))).toEqual([['file-too-large', 'tile/entries/000', null]]);
    expect(large.isCut).toBe(true);
    files.delete('tile/entries/001');
    expect(shortly(faultsOf(files, headOf(600)))).toEqual([['file-missing', 'tile/entries/001', null]]);
  });

  it.each<[string, string, number, [string, string, number | null][]]>([
    ['of a tile of leaves', 'tile/0/001', 32 * 7, [['hash-differs', 'tile/0/001', 7]]],
    ['of a tile above', 'tile/1/000.p/2', 32, [['hash-differs', 'tile/1/000.p/2', 1]]],
    [
      'of an entry',
      'tile/entries/001',
      34 * 7 + 2,
      [
        ['hash-differs', 'tile/0/001', 7],
        ['hash-differs', 'tile/1/000.p/2', 1],
        ['root-differs', 'checkpoint', 600],
      ],
    ],
  ])('tells where one bit %s is another', (_, path, at, faults) => {
    const files = written(600);
    const bytes = files.get(path) as Buffer;
    bytes[at] = (bytes[at] as number) ^ 1;
    const found = faultsOf(files, headOf(600));
    expect(shortly(found)).toEqual(faults);
    const [first] = found;
    expect([first?.expected, first?.found]).toEqual([
      expect.stringMatching(/^[0-9a-f]{64}$/),
      expect.not.stringMatching(String(first?.expected)),
    ]);
  });

  it('tells both places of two leaves that were swapped', () => {
    const files = written(600);
    const [one, two, ...rest] = entries.slice(512, 600) as [Buffer, Buffer];
    files.set(bundle, bundleOf([two, one, ...rest]));
    expect(shortly(faultsOf(files, headOf(600)))).toEqual([
      ['hash-differs', 'tile/0/002.p/88', 0],
      ['hash-differs', 'tile/0/002.p/88', 1],
      ['root-differs', 'checkpoint', 600],
    ]);
  });

  it('with a tile of another length is told of it', () => {
    const files = written(600);
    files.set('tile/0/000', (files.get('tile/0/000') as Buffer).subarray(1));
    expect(faultsOf(files, headOf(600))).toMatchObject([
      { fault: 'tile-of-wrong-length', path: 'tile/0/000', expected: '8192', found: '8191' },
    ]);
  });

  it('that is another tree of the same size has another root than the signed one, and than the older one', () => {
    const forked = entries.with(300, Buffer.alloc(32));
    const faults = faultsOf(written(600, forked), headOf(600), headOf(400));
    expect(shortly(faults)).toEqual([
      ['older-root-differs', 'checkpoint', 400],
      ['root-differs', 'checkpoint', 600],
    ]);
    // What was signed for both is caught by the older checkpoint alone.
    expect(shortly(faultsOf(written(600, forked), headOf(600, forked), headOf(400)))).toEqual([
      ['older-root-differs', 'checkpoint', 400],
    ]);
  });
});
