/** Proofs of the log against RFC 6962, its published example tree, and its definitions taken literally. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Frontier } from '../../../src/core/log/frontier.ts';
import { hashOfLeaf, hashOfNode } from '../../../src/core/log/hash.ts';
import {
  consistencyRanges,
  hashOfRange,
  inclusionSteps,
  isConsistent,
  nodesOf,
  type Range,
  rootByInclusion,
  type TreeNode,
} from '../../../src/core/log/tree.ts';
import { mth, pathTo, proofOf } from './slow-tree.ts';

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex');

// The leaves and roots that implementations of RFC 6962 publish with their tests (certificate-transparency,
// transparency-dev/merkle); hashing as in section 2.1.
const leaves = ['', '00', '10', '2021', '3031', '40414243', '5051525354555657', '606162636465666768696a6b6c6d6e6f'].map(
  (one) => Buffer.from(one, 'hex'),
);
const roots = [
  'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855',
  '6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d',
  'fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125',
  'aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77',
  'd37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7',
  '4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4',
  '76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef',
  'ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c',
  '5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328',
];

function hashesOf(entries: readonly Uint8Array[]): (node: TreeNode) => Uint8Array {
  return ({ level, index }) => mth(entries.slice(index * 2 ** level, (index + 1) * 2 ** level));
}

describe('the published tree', () => {
  it.each(roots.map((root, size) => [size, root]))('of %d leaves has its root', (size, root) => {
    const frontier = new Frontier();
    for (const leaf of leaves.slice(0, size)) frontier.add(hashOfLeaf(leaf));
    expect([frontier.size, hex(frontier.root())]).toEqual([size, root]);
    expect(hex(hashOfRange({ begin: 0, end: size }, hashesOf(leaves)))).toBe(root);
  });

  // The nodes of RFC 6962 section 2.1.3, by the letters of its picture.
  const letters: Record<string, Range> = {
    ...{ b: { begin: 1, end: 2 }, c: { begin: 2, end: 3 }, d: { begin: 3, end: 4 }, f: { begin: 5, end: 6 } },
    ...{ g: { begin: 0, end: 2 }, h: { begin: 2, end: 4 }, i: { begin: 4, end: 6 }, j: { begin: 6, end: 7 } },
    ...{ k: { begin: 0, end: 4 }, l: { begin: 4, end: 7 } },
  };
  const named = (letter: string) => letters[letter] as Range;

  it.each([
    [0, ['b', 'h', 'l']],
    [3, ['c', 'g', 'l']],
    [4, ['f', 'j', 'k']],
    [6, ['i', 'k']],
  ])('has for leaf %d of seven the path of RFC 6962 section 2.1.3', (index, path) => {
    expect(inclusionSteps(index, 7).map(({ begin, end }) => ({ begin, end }))).toEqual(path.map(named));
  });

  it.each([
    [3, ['c', 'd', 'g', 'l']],
    [4, ['l']],
    [6, ['i', 'j', 'k']],
  ])('has between %d and seven the proof of RFC 6962 section 2.1.3', (from, proof) => {
    expect(consistencyRanges(from, 7)).toEqual(proof.map(named));
  });
});

const entries = fc.array(fc.uint8Array({ maxLength: 40 }), { minLength: 1, maxLength: 70 });

/** A list, the size of a tree of a part of it, and one of its leaves. */
const part = entries.chain((all) =>
  fc.integer({ min: 1, max: all.length }).map((size) => ({ all, size, entries: all.slice(0, size) })),
);
const withLeaf = part.chain((one) => fc.integer({ min: 0, max: one.size - 1 }).map((index) => ({ ...one, index })));
const grown = part.chain((one) => fc.integer({ min: 1, max: one.size }).map((from) => ({ ...one, from })));

describe('a proof of inclusion', () => {
  it('has the hashes of PATH and leads to the root', () => {
    fc.assert(
      fc.property(withLeaf, ({ entries, size, index }) => {
        const proof = inclusionSteps(index, size).map((step) => hashOfRange(step, hashesOf(entries)));
        expect(proof.map(hex)).toEqual(pathTo(index, entries).map(hex));
        const root = rootByInclusion({ index, size }, hashOfLeaf(entries[index] as Uint8Array), proof);
        expect(hex(root as Uint8Array)).toBe(hex(mth(entries)));
      }),
    );
  });

  it('leads nowhere else: not with another index, leaf or order, a bit turned, or a hash more or less', () => {
    fc.assert(
      fc.property(withLeaf, fc.nat(), fc.nat({ max: 255 }), ({ entries, size, index }, at, bit) => {
        const distinct = entries.map((entry, n) => Buffer.concat([Buffer.from([n]), entry]));
        const [root, leaf, proof] = [mth(distinct), hashOfLeaf(distinct[index] as Uint8Array), pathTo(index, distinct)];
        const proves = (how: { index?: number; leaf?: Uint8Array; proof?: Uint8Array[] }) => {
          const led = rootByInclusion({ index: how.index ?? index, size }, how.leaf ?? leaf, how.proof ?? proof);
          return led !== null && hex(led) === hex(root);
        };
        expect(proves({})).toBe(true);
        expect(proves({ leaf: turned(leaf, bit) })).toBe(false);
        expect(proves({ proof: [...proof, leaf] })).toBe(false);
        for (const other of distinct.keys()) if (other !== index) expect(proves({ index: other })).toBe(false);
        if (proof.length === 0) return;
        const n = at % proof.length;
        expect(proves({ proof: proof.slice(1) })).toBe(false);
        expect(proves({ proof: proof.with(n, turned(proof[n] as Buffer, bit)) })).toBe(false);
        if (proof.length > 1) expect(proves({ proof: proof.toReversed() })).toBe(false);
      }),
    );
  });

  it.each([
    [3, 3],
    [-1, 3],
    [0.5, 3],
    [0, 0],
    [0, Number.NaN],
  ])('is none of leaf %d in %d', (index, size) => {
    expect(() => inclusionSteps(index, size)).toThrow(RangeError);
    expect(rootByInclusion({ index, size }, hashOfLeaf(Buffer.alloc(0)), [])).toBeNull();
  });

  it('counts leaves beyond 32 bits', () => {
    const [index, size] = [2 ** 40 + 5, 2 ** 45];
    expect(inclusionSteps(index, size)).toHaveLength(45);
    expect(inclusionSteps(index, size)[0]).toEqual({ begin: 2 ** 40 + 4, end: 2 ** 40 + 5, side: 'left' });
  });
});

describe('a proof of consistency', () => {
  it('has the hashes of PROOF, and shows it', () => {
    fc.assert(
      fc.property(grown, ({ entries, size, from }) => {
        const proof = consistencyRanges(from, size).map((range) => hashOfRange(range, hashesOf(entries)));
        expect(proof.map(hex)).toEqual(proofOf(from, entries).map(hex));
        const [old, root] = [mth(entries.slice(0, from)), mth(entries)];
        expect(isConsistent({ from, fromRoot: old }, { size, root }, proof)).toBe(true);
      }),
    );
  });

  it('shows nothing else: no other root or size, a bit turned, another order, a hash more or less', () => {
    fc.assert(
      fc.property(grown, fc.nat(), fc.nat({ max: 255 }), ({ entries, size, from }, at, bit) => {
        const distinct = entries.map((entry, n) => Buffer.concat([Buffer.from([n]), entry]));
        const [old, root, proof] = [mth(distinct.slice(0, from)), mth(distinct), proofOf(from, distinct)];
        const shows = (how: { from?: number; old?: Uint8Array; root?: Uint8Array; proof?: Uint8Array[] }) =>
          isConsistent(
            { from: how.from ?? from, fromRoot: how.old ?? old },
            { size, root: how.root ?? root },
            how.proof ?? proof,
          );
        expect(shows({})).toBe(true);
        expect(shows({ old: turned(old, bit) })).toBe(false);
        expect(shows({ root: turned(root, bit) })).toBe(false);
        expect(shows({ proof: [...proof, root] })).toBe(false);
        for (let other = 0; other <= size + 1; other++) if (other !== from) expect(shows({ from: other })).toBe(false);
        if (proof.length === 0) return;
        const n = at % proof.length;
        expect(shows({ proof: proof.slice(1) })).toBe(false);
        expect(shows({ proof: proof.with(n, turned(proof[n] as Buffer, bit)) })).toBe(false);
        if (proof.length > 1) expect(shows({ proof: proof.toReversed() })).toBe(false);
      }),
    );
  });

  it('is not there of an empty tree, which says nothing', () => {
    expect(() => consistencyRanges(0, 3)).toThrow(RangeError);
    expect(() => consistencyRanges(4, 3)).toThrow(RangeError);
    const root = mth(leaves.slice(0, 3));
    expect(isConsistent({ from: 0, fromRoot: mth([]) }, { size: 3, root }, [])).toBe(false);
  });
});

describe('a frontier', () => {
  it('goes on from the nodes of its tree as if it had seen all leaves', () => {
    fc.assert(
      fc.property(grown, ({ entries, size, from }) => {
        const nodes = nodesOf({ begin: 0, end: from }).map(hashesOf(entries));
        const frontier = Frontier.of(from, nodes);
        for (const entry of entries.slice(from)) frontier.add(hashOfLeaf(entry));
        expect([frontier.size, hex(frontier.root())]).toEqual([size, hex(mth(entries))]);
      }),
    );
  });

  it('hashes leaves and nodes apart', () => {
    const [a, b] = [Buffer.alloc(32, 1), Buffer.alloc(32, 2)];
    expect(hex(hashOfLeaf(Buffer.concat([a, b])))).not.toBe(hex(hashOfNode(a, b)));
  });
});

function turned(bytes: Uint8Array, bit: number): Buffer {
  const copy = Buffer.from(bytes);
  const at = Math.floor(bit / 8) % copy.length;
  copy[at] = (copy[at] as number) ^ (1 << (bit % 8));
  return copy;
}
