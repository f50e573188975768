/**
 * The whole log reckoned anew from its entries: each tile of each level, the root, and the root of an older checkpoint on
 * the way. Nothing here fetches: it says which files it needs, in which order, and is given their bytes one by one. It
 * holds no more than a tile a level.
 */
import type { Checkpoint } from './checkpoint.ts';
import { Frontier } from './frontier.ts';
import { emptyRoot, hashBytes, hashOfLeaf } from './hash.ts';
import { entriesIn, hashesIn, hashOfMany, mostLevel, pathOf, type TileAsked, tileIn, tileWidth } from './tiles.ts';
import { isSame } from './tree.ts';

export type RecountFault = {
  readonly fault:
    | 'file-missing'
    | 'file-too-large'
    | 'bundle-not-whole'
    | 'entries-too-many-or-few'
    | 'entry-of-wrong-length'
    | 'tile-of-wrong-length'
    | 'hash-differs'
    | 'root-differs'
    | 'older-root-differs'
    | 'log-shorter'
    | 'checkpoint-of-another-log';
  /** The path of a file of the log (C2SP tlog-tiles), or `checkpoint`. */
  readonly path: string;
  /** The entry or hash in it, from 0; null where it is about the whole. */
  readonly at: number | null;
  /** By what was reckoned or signed. Hashes are hexadecimal. */
  readonly expected: string;
  readonly found: string;
};

/** Bytes that no file of a log has more of, where entries have `hashBytes`. */
export function mostBytes({ of, width }: TileAsked): number {
  return width * (of === 'entries' ? hashBytes + 2 : hashBytes);
}

/** Every file of a log of `size`, each after those that it is reckoned from. */
export function* filesOf(size: number): Generator<TileAsked> {
  for (let index = 0; ; index++) {
    const tile = tileIn(size, 0, index);
    if (tile === null) break;
    yield { ...tile, of: 'entries' };
    yield { ...tile, of: 'hashes' };
    // A tile above is full with the last one below it.
    let full = tile.width === tileWidth ? index + 1 : 1;
    for (let level = 1; full % tileWidth === 0; level++) {
      full /= tileWidth;
      yield { of: 'hashes', level, index: full - 1, width: tileWidth };
    }
  }
  for (let level = 1; level <= mostLevel; level++) {
    const last = tileIn(size, level, Math.floor(size / tileWidth ** (level + 1)));
    if (last !== null) yield { ...last, of: 'hashes' };
  }
}

export class Recount {
  readonly #head: Checkpoint;
  readonly #since: Checkpoint | null;
  /** The hashes of the tile of each level that is not full yet. */
  readonly #open: Uint8Array[][] = [[]];
  /** A tree of the full tiles of level 0, each as one leaf. */
  readonly #full = new Frontier();
  #isCut = false;

  /** @param since an older checkpoint, which the log must begin with */
  constructor(head: Checkpoint, since: Checkpoint | null = null) {
    this.#head = head;
    this.#since = since;
  }

  /** Nothing can be reckoned from here on: what is needed for it is not there. */
  get isCut(): boolean {
    return this.#isCut;
  }

  /** Before the first file is read. */
  begin(): RecountFault[] {
    const [head, since] = [this.#head, this.#since];
    if (since === null) return [];
    const fault = (kind: RecountFault['fault'], expected: string, found: string): RecountFault[] => {
      this.#isCut = true;
      return [{ fault: kind, path: 'checkpoint', at: null, expected, found }];
    };
    if (head.origin !== since.origin) return fault('checkpoint-of-another-log', since.origin, head.origin);
    if (head.size < since.size) return fault('log-shorter', String(since.size), String(head.size));
    return since.size === 0 ? this.#older(emptyRoot) : [];
  }

  /** The next of `filesOf`; null: there is none; `too-much`: it has more than `mostBytes`. */
  take(asked: TileAsked, bytes: Uint8Array | 'too-much' | null): RecountFault[] {
    const path = pathOf(asked);
    const faults =
      bytes === null || bytes === 'too-much'
        ? [absentFault(asked, path, bytes)]
        : asked.of === 'entries'
          ? this.#takeEntries(asked, path, bytes)
          : tileFaults(this.#openAt(asked.level), path, bytes);
    if (asked.of === 'entries') this.#isCut ||= faults.some(({ fault }) => fault !== 'older-root-differs');
    else if (asked.width === tileWidth) this.#close(asked.level);
    return faults;
  }

  /** After the last file. */
  end(): RecountFault[] {
    const { size, root } = this.#head;
    const found = this.#rootWith(this.#openAt(0));
    return isSame(root, found) ? [] : [rootFault('root-differs', size, found, root)];
  }

  #takeEntries({ index, width }: TileAsked, path: string, bytes: Uint8Array): RecountFault[] {
    const entries = entriesIn(bytes);
    if (entries === null)
      return [
        { fault: 'bundle-not-whole', path, at: null, expected: `${width} entries`, found: `${bytes.length} bytes` },
      ];
    if (entries.length !== width) {
      const [expected, found] = [String(width), String(entries.length)];
      return [{ fault: 'entries-too-many-or-few', path, at: null, expected, found }];
    }
    const at = entries.findIndex((entry) => entry.length !== hashBytes);
    if (at >= 0) {
      const [expected, found] = [String(hashBytes), String(entries[at]?.length)];
      return [{ fault: 'entry-of-wrong-length', path, at, expected, found }];
    }
    const hashes = entries.map(hashOfLeaf);
    this.#open[0] = hashes;
    const count = (this.#since?.size ?? 0) - index * tileWidth;
    return count > 0 && count <= width ? this.#older(this.#rootWith(hashes.slice(0, count))) : [];
  }

  #close(level: number): void {
    const hash = hashOfMany(this.#openAt(level));
    this.#open[level] = [];
    this.#openAt(level + 1).push(hash);
    if (level === 0) this.#full.add(hash);
  }

  #openAt(level: number): Uint8Array[] {
    this.#open[level] ??= [];
    return this.#open[level];
  }

  /** Of all full tiles and these leaves. */
  #rootWith(leaves: readonly Uint8Array[]): Uint8Array {
    const tail = new Frontier();
    for (const leaf of leaves) tail.add(leaf);
    const nodes = [...this.#full.nodes(), ...tail.nodes()];
    return Frontier.of(nodes.length, nodes).root();
  }

  #older(found: Uint8Array): RecountFault[] {
    const { size, root } = this.#since as Checkpoint;
    return isSame(root, found) ? [] : [rootFault('older-root-differs', size, found, root)];
  }
}

function absentFault(asked: TileAsked, path: string, bytes: 'too-much' | null): RecountFault {
  const { of, width } = asked;
  return bytes === null
    ? { fault: 'file-missing', path, at: null, expected: `${width} ${of}`, found: 'nothing' }
    : { fault: 'file-too-large', path, at: null, expected: `${mostBytes(asked)}`, found: 'more' };
}

function tileFaults(hashes: readonly Uint8Array[], path: string, bytes: Uint8Array): RecountFault[] {
  const length = hashes.length * hashBytes;
  if (bytes.length !== length) {
    const [expected, found] = [String(length), String(bytes.length)];
    return [{ fault: 'tile-of-wrong-length', path, at: null, expected, found }];
  }
  return hashesIn(bytes).flatMap((hash, at): RecountFault[] => {
    const reckoned = hashes[at] as Uint8Array;
    return isSame(hash, reckoned)
      ? []
      : [{ fault: 'hash-differs', path, at, expected: hexOf(reckoned), found: hexOf(hash) }];
  });
}

/** A root is signed: what is found is what the entries give. */
function rootFault(
  fault: 'root-differs' | 'older-root-differs',
  size: number,
  found: Uint8Array,
  root: Uint8Array,
): RecountFault {
  return { fault, path: 'checkpoint', at: size, expected: hexOf(root), found: hexOf(found) };
}

function hexOf(bytes: Uint8Array): string {
  return Buffer.from(bytes).toString('hex');
}
