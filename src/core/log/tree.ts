/**
 * Which hashes a proof is made of (RFC 6962 sections 2.1.1 and 2.1.2, the same in RFC 9162), and what they prove. Nothing
 * here fetches: whoever makes a proof is told the nodes, and gives their hashes.
 *
 * A *range* of leaves [begin, end) as the RFC splits the tree has one hash, that of its own tree. A *node* is a range of
 * 2^level leaves that begins at index · 2^level: those alone never change while the tree grows, and are what is kept.
 */
import { emptyRoot, hashOfNode } from './hash.ts';

export type Range = { readonly begin: number; readonly end: number };
export type TreeNode = { readonly level: number; readonly index: number };
/** A hash beside the way from a leaf to the root, and the side that it is on. */
export type Step = Range & { readonly side: 'left' | 'right' };
export type HashOf = (node: TreeNode) => Uint8Array;

/** The largest power of two below `count`, from 2 leaves on. */
function split(count: number): number {
  let left = 1;
  while (left * 2 < count) left *= 2;
  return left;
}

/**
 * PATH(index, D[size]): what is hashed beside the leaf, from the leaf up to the root.
 * @throws RangeError for a leaf that is not in a tree of this size
 */
export function inclusionSteps(index: number, size: number): Step[] {
  if (!isCount(index) || !isCount(size) || index >= size)
    throw new RangeError(`leaf ${index} is not in a tree of ${size}`);
  const steps: Step[] = [];
  let [begin, end] = [0, size];
  while (end - begin > 1) {
    const middle = begin + split(end - begin);
    if (index < middle) {
      steps.push({ begin: middle, end, side: 'right' });
      end = middle;
    } else {
      steps.push({ begin, end: middle, side: 'left' });
      begin = middle;
    }
  }
  return steps.reverse();
}

/**
 * PROOF(from, D[size]): the ranges that show that the tree of `size` begins with that of `from`.
 * @throws RangeError for an empty `from`, of which nothing can be proven, or one beyond `size`
 */
export function consistencyRanges(from: number, size: number): Range[] {
  if (!isCount(from) || !isCount(size) || from < 1 || from > size)
    throw new RangeError(`nothing can be proven of a tree of ${from} in one of ${size}`);
  const ranges: Range[] = [];
  let [begin, end] = [0, size];
  while (end > from) {
    const middle = begin + split(end - begin);
    if (from <= middle) {
      ranges.push({ begin: middle, end });
      end = middle;
    } else {
      ranges.push({ begin, end: middle });
      begin = middle;
    }
  }
  // The old tree itself is known; its last part, where it is not the whole, has to be told.
  if (begin > 0) ranges.push({ begin, end });
  return ranges.reverse();
}

/** The nodes that a range is hashed of, from left to right. */
export function nodesOf({ begin, end }: Range): TreeNode[] {
  const nodes: TreeNode[] = [];
  for (let at = begin; at < end; ) {
    let [level, width] = [0, 1];
    while (at % (width * 2) === 0 && at + width * 2 <= end) [level, width] = [level + 1, width * 2];
    nodes.push({ level, index: at / width });
    at += width;
  }
  return nodes;
}

/** The hash of a range, of the hashes of its nodes; of no leaves that of nothing. */
export function hashOfRange(range: Range, hashOf: HashOf): Uint8Array {
  const hashes = nodesOf(range).map(hashOf);
  return hashes.length === 0 ? emptyRoot : hashes.reduceRight((right, left) => hashOfNode(left, right));
}

/** The root that the proof leads to; null where it has another number of hashes than such a proof has. */
export function rootByInclusion(
  { index, size }: { readonly index: number; readonly size: number },
  leaf: Uint8Array,
  proof: readonly Uint8Array[],
): Uint8Array | null {
  if (!isCount(index) || !isCount(size) || index >= size) return null;
  const steps = inclusionSteps(index, size);
  if (steps.length !== proof.length) return null;
  return steps.reduce<Uint8Array>((hash, { side }, at) => {
    const beside = proof[at] as Uint8Array;
    return side === 'left' ? hashOfNode(beside, hash) : hashOfNode(hash, beside);
  }, leaf);
}

/** Whether the tree of `size` with `root` begins with the one of `from` with `fromRoot` (RFC 9162 section 2.1.4.2). */
export function isConsistent(
  { from, fromRoot }: { readonly from: number; readonly fromRoot: Uint8Array },
  { size, root }: { readonly size: number; readonly root: Uint8Array },
  proof: readonly Uint8Array[],
): boolean {
  if (!isCount(from) || !isCount(size) || from < 1 || from > size) return false;
  if (from === size) return proof.length === 0 && isSame(fromRoot, root);
  const ranges = consistencyRanges(from, size);
  if (ranges.length !== proof.length) return false;
  const parts = ranges.map((range, at) => ({ range, hash: proof[at] as Uint8Array }));
  // Where the old tree is a node of the grown one, the way begins at its root; else at its last part, which is told.
  const begin = ranges[0]?.begin === from ? fromRoot : (parts.shift()?.hash as Uint8Array);
  let [old, grown] = [begin, begin];
  for (const { range, hash } of parts) {
    // What lies left of the last part of the old tree belongs to both, what lies right of it to the grown one.
    if (range.end <= from) old = hashOfNode(hash, old);
    grown = range.end <= from ? hashOfNode(hash, grown) : hashOfNode(grown, hash);
  }
  return isSame(old, fromRoot) && isSame(grown, root);
}

export function isSame(a: Uint8Array, b: Uint8Array): boolean {
  return Buffer.compare(a, b) === 0;
}

function isCount(number: number): boolean {
  return Number.isSafeInteger(number) && number >= 0;
}
