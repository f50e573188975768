/** The files of a tree as they come about while it grows from nothing, in memory of one tile a level. */
import { hashOfLeaf } from './hash.ts';
import { bundleOf, hashOfMany, pathOf, tileWidth } from './tiles.ts';

export type LogFile = { readonly path: string; readonly bytes: Uint8Array };

export class Tiling {
  #size = 0;
  /** Entries of the bundle at the right edge. */
  #entries: Uint8Array[] = [];
  /** By level: the hashes of the tile at the right edge. */
  readonly #edges: Uint8Array[][] = [];

  /** The files that are full with this entry: none, or a bundle and a tile of each level that it ends. */
  add(entry: Uint8Array): LogFile[] {
    this.#entries.push(entry);
    this.#size += 1;
    const full: LogFile[] = [];
    if (this.#size % tileWidth === 0) {
      full.push(this.#bundle());
      this.#entries = [];
    }
    let hash: Uint8Array | null = hashOfLeaf(entry);
    for (let level = 0; hash !== null; level++) {
      const edge: Uint8Array[] = this.#edges[level] ?? [];
      edge.push(hash);
      this.#edges[level] = edge;
      hash = null;
      if (edge.length < tileWidth) break;
      full.push(this.#tile(level, edge));
      this.#edges[level] = [];
      hash = hashOfMany(edge);
    }
    return full;
  }

  /** Those at the right edge that are not full. */
  edge(): LogFile[] {
    return [
      ...(this.#entries.length > 0 ? [this.#bundle()] : []),
      ...this.#edges.flatMap((edge, level) => (edge.length > 0 ? [this.#tile(level, edge)] : [])),
    ];
  }

  #bundle(): LogFile {
    const index = Math.ceil(this.#size / tileWidth) - 1;
    return {
      path: pathOf({ of: 'entries', level: 0, index, width: this.#entries.length }),
      bytes: bundleOf(this.#entries),
    };
  }

  #tile(level: number, hashes: readonly Uint8Array[]): LogFile {
    const index = Math.ceil(Math.floor(this.#size / tileWidth ** level) / tileWidth) - 1;
    return { path: pathOf({ of: 'hashes', level, index, width: hashes.length }), bytes: Buffer.concat(hashes) };
  }
}
