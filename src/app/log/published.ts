/**
 * The log as it is kept outside the database, where everybody reads it. What is given out, checkpoints first of all, comes
 * from here alone, so whatever a caller holds can be compared with a database that comes back from a backup.
 */
import { type Checkpoint, openCheckpoint } from '../../core/log/checkpoint.ts';
import { hashOfLeaf } from '../../core/log/hash.ts';
import type { VerifierKey } from '../../core/log/note.ts';
import {
  bundleOf,
  hashesIn,
  hashOfMany,
  pathOf,
  placeOf,
  type Tile,
  tileIn,
  tilesSince,
  tileWidth,
} from '../../core/log/tiles.ts';
import type { HashOf, TreeNode } from '../../core/log/tree.ts';
import type { LogFiles } from '../../store/log-files.ts';

export const checkpointPath = 'checkpoint';
/** The note that names the log before this one, where there is one. */
export const followsPath = 'follows';

export type Published = Checkpoint & { readonly note: string };

/**
 * Null where nothing is published yet.
 * @throws Error where what is there is not signed by a key of this log
 */
export async function readPublished(files: LogFiles, keys: readonly VerifierKey[]): Promise<Published | null> {
  const bytes = await files.read(checkpointPath);
  if (bytes === null) return null;
  const note = bytes.toString('utf8');
  const checkpoint = openCheckpoint(note, keys);
  if ('fault' in checkpoint) throw new Error(`the checkpoint that is published is not ours: ${checkpoint.fault}`);
  return { ...checkpoint, note };
}

/** The entries of leaves, in hexadecimal, from an index on. */
export type ReadEntries = (from: number, count: number) => Promise<string[]>;

/** Brings the files from one size to another, and gives out the checkpoint last. Done twice, it changes nothing. */
export async function publish(
  files: LogFiles,
  read: ReadEntries,
  from: number,
  { size, note }: { readonly size: number; readonly note: string },
): Promise<void> {
  for (const tile of tilesSince(from, size)) {
    const hashes = tile.level === 0 ? await leavesOf(files, read, tile) : await hashesAbove(files, from, tile);
    await files.write(pathOf({ ...tile, of: 'hashes' }), Buffer.concat(hashes));
  }
  await files.write(checkpointPath, Buffer.from(note, 'utf8'));
}

/** Writes the entries of a tile of level 0 beside it. */
async function leavesOf(files: LogFiles, read: ReadEntries, tile: Tile): Promise<Uint8Array[]> {
  const entries = (await read(tile.index * tileWidth, tile.width)).map((entry) => Buffer.from(entry, 'hex'));
  if (entries.length !== tile.width) throw new Error(`leaves are missing in tile ${tile.index}`);
  await files.write(pathOf({ ...tile, of: 'entries' }), bundleOf(entries));
  return entries.map(hashOfLeaf);
}

/** What the tile of the smaller tree held already is not hashed again. */
async function hashesAbove(files: LogFiles, from: number, { level, index, width }: Tile): Promise<Uint8Array[]> {
  const before = tileIn(from, level, index);
  const hashes = before === null ? [] : hashesIn(await mustRead(files, before));
  for (let at = hashes.length; at < width; at++) {
    const below = { level: level - 1, index: index * tileWidth + at, width: tileWidth };
    hashes.push(hashOfMany(hashesIn(await mustRead(files, below))));
  }
  return hashes;
}

async function mustRead(files: LogFiles, tile: Tile): Promise<Buffer> {
  const path = pathOf({ ...tile, of: 'hashes' });
  const bytes = await files.read(path);
  if (bytes?.length !== tile.width * 32) throw new Error(`the file ${path} of the log is missing or not whole`);
  return bytes;
}

/** The hashes of these nodes of a tree of `size`, from the files. */
export async function readHashes(files: LogFiles, size: number, nodes: readonly TreeNode[]): Promise<HashOf> {
  const tiles = new Map<string, Uint8Array[]>();
  const known = new Map<string, Uint8Array>();
  for (const node of nodes) {
    const { level, tile: index, first, count } = placeOf(node);
    const tile = tileIn(size, level, index);
    if (tile === null) throw new RangeError(`a tree of ${size} has no node ${node.index} at level ${node.level}`);
    const path = pathOf({ ...tile, of: 'hashes' });
    const hashes = tiles.get(path) ?? hashesIn(await mustRead(files, tile));
    tiles.set(path, hashes);
    known.set(keyOf(node), hashOfMany(hashes.slice(first, first + count)));
  }
  return (node) => {
    const hash = known.get(keyOf(node));
    if (hash === undefined) throw new RangeError(`the node ${keyOf(node)} was not asked for`);
    return hash;
  };
}

function keyOf({ level, index }: TreeNode): string {
  return `${level}/${index}`;
}
