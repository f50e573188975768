/** A tree that grows by leaves and is remembered by its right edge alone: no more than one hash a level. */
import { emptyRoot, hashOfNode } from './hash.ts';

export class Frontier {
  #size = 0;
  /** The hashes of the nodes that the tree is made of, the largest first. */
  readonly #nodes: Uint8Array[] = [];

  /** A tree of this size, whose nodes (`nodesOf`) have these hashes, from left to right. */
  static of(size: number, nodes: readonly Uint8Array[]): Frontier {
    const frontier = new Frontier();
    frontier.#size = size;
    frontier.#nodes.push(...nodes);
    return frontier;
  }

  get size(): number {
    return this.#size;
  }

  /** The hashes of the nodes of the tree, from left to right. */
  nodes(): readonly Uint8Array[] {
    return [...this.#nodes];
  }

  add(leaf: Uint8Array): void {
    let hash = leaf;
    // As many nodes end with this leaf as its number ends with ones.
    for (let rest = this.#size; rest % 2 === 1; rest = (rest - 1) / 2) {
      hash = hashOfNode(this.#nodes.pop() as Uint8Array, hash);
    }
    this.#nodes.push(hash);
    this.#size += 1;
  }

  root(): Uint8Array {
    return this.#nodes.length === 0 ? emptyRoot : this.#nodes.reduceRight((right, left) => hashOfNode(left, right));
  }
}
