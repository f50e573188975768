/** The tree in tiles (C2SP tlog-tiles): 256 hashes each, where they lie and what they are called. */
import { hashBytes, hashOfNode } from './hash.ts';
import type { TreeNode } from './tree.ts';

/** Hashes of a full tile; each of them is of 256 of the level below, of leaves at level 0. */
export const tileWidth = 256;
const tileHeight = 8;
/** Above it lie more leaves than a number counts exactly. */
export const mostLevel = 6;

/** `width`: how many hashes it has; less than `tileWidth` at the right edge alone. */
export type Tile = { readonly level: number; readonly index: number; readonly width: number };
/** A tile, or the entries that the hashes of a tile of level 0 are of. */
export type TileAsked = Tile & { readonly of: 'hashes' | 'entries' };

/** The tile as a tree of `size` has it; null where it has none of its hashes. */
export function tileIn(size: number, level: number, index: number): Tile | null {
  const width = Math.min(tileWidth, Math.floor(size / tileWidth ** level) - index * tileWidth);
  return width <= 0 ? null : { level, index, width };
}

/** All of a tree of `size`, level by level. */
export function* tilesOf(size: number): Generator<Tile> {
  for (let level = 0; level <= mostLevel; level++) {
    for (let index = 0; ; index++) {
      const tile = tileIn(size, level, index);
      if (tile === null) break;
      yield tile;
    }
  }
}

/** Those of a tree of `size` that one of `from` does not have as they are. */
export function* tilesSince(from: number, size: number): Generator<Tile> {
  for (let level = 0; level <= mostLevel; level++) {
    for (let index = Math.floor(from / tileWidth ** (level + 1)); ; index++) {
      const tile = tileIn(size, level, index);
      if (tile === null) break;
      if (tileIn(from, level, index)?.width !== tile.width) yield tile;
    }
  }
}

/** Where the hash of a node is read: in this tile, from this hash of it on so many. */
export function placeOf({ level, index }: TreeNode): { level: number; tile: number; first: number; count: number } {
  const tileLevel = Math.floor(level / tileHeight);
  const count = 2 ** (level - tileLevel * tileHeight);
  const first = index * count;
  return { level: tileLevel, tile: Math.floor(first / tileWidth), first: first % tileWidth, count };
}

/** The hash of so many hashes beside each other, a power of two. */
export function hashOfMany(hashes: readonly Uint8Array[]): Uint8Array {
  let row = hashes;
  while (row.length > 1) {
    const below = row;
    row = Array.from({ length: below.length / 2 }, (_, at) =>
      hashOfNode(below[at * 2] as Uint8Array, below[at * 2 + 1] as Uint8Array),
    );
  }
  return row[0] as Uint8Array;
}

/** The hashes that a tile holds one after the other. */
export function hashesIn(bytes: Uint8Array): Uint8Array[] {
  return Array.from({ length: bytes.length / hashBytes }, (_, at) =>
    bytes.subarray(at * hashBytes, (at + 1) * hashBytes),
  );
}

/** Such as `tile/0/x001/234` or `tile/entries/000.p/7`, after the prefix of the log. */
export function pathOf({ of, level, index, width }: TileAsked): string {
  const digits = String(index).padStart(Math.ceil(String(index).length / 3) * 3, '0');
  const parts = digits.match(/\d{3}/g) as string[];
  const name = parts.map((part, at) => (at < parts.length - 1 ? `x${part}` : part)).join('/');
  return `tile/${of === 'entries' ? 'entries' : level}/${name}${width === tileWidth ? '' : `.p/${width}`}`;
}

const path = /^tile\/(entries|0|[1-9]\d?)\/((?:x\d{3}\/)*\d{3})(?:\.p\/([1-9]\d{0,2}))?$/;

/** What a path asks for; null for what is no path of a tile, in its one spelling. */
export function tileAt(text: string): TileAsked | null {
  const [, what, name, partial] = path.exec(text) ?? [];
  if (what === undefined || name === undefined) return null;
  const asked: TileAsked = {
    of: what === 'entries' ? 'entries' : 'hashes',
    level: what === 'entries' ? 0 : Number(what),
    index: Number(name.replaceAll(/[x/]/g, '')),
    width: partial === undefined ? tileWidth : Number(partial),
  };
  const isOne = asked.level <= mostLevel && Number.isSafeInteger(asked.index * tileWidth ** (asked.level + 1));
  return isOne && pathOf(asked) === text ? asked : null;
}

/** Entries, each after its length in two bytes, the larger first. @throws RangeError for one of more than 65,535 bytes */
export function bundleOf(entries: readonly Uint8Array[]): Buffer {
  return Buffer.concat(
    entries.flatMap((entry) => {
      const length = Buffer.alloc(2);
      length.writeUInt16BE(entry.length);
      return [length, entry];
    }),
  );
}

/** The entries of a bundle; null where the last is not whole. */
export function entriesIn(bytes: Uint8Array): Uint8Array[] | null {
  const entries: Uint8Array[] = [];
  const buffer = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.length);
  for (let at = 0; at < buffer.length; ) {
    if (at + 2 > buffer.length) return null;
    const length = buffer.readUInt16BE(at);
    if (at + 2 + length > buffer.length) return null;
    entries.push(buffer.subarray(at + 2, at + 2 + length));
    at += 2 + length;
  }
  return entries;
}
