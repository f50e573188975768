/** What is published, held against what the database gives. */

import { pathOf, type TileAsked, tileAt, tileIn, tileWidth } from '../../core/log/tiles.ts';
import type { LogFile } from '../../core/log/tiling.ts';
import type { LogFiles } from '../../store/log-files.ts';
import type { Difference } from '../../store/projections/compare-expected.ts';
import { checkpointPath, followsPath } from './published.ts';

/** Bytes of a hash in a tile, and of an entry of ours in a bundle. */
const bytesOf = { hashes: 32, entries: 34 } as const;

export async function compareFile(files: LogFiles, { path, bytes }: LogFile): Promise<Difference[]> {
  const found = await files.read(path);
  if (found === null) return [differs(path, `${bytes.length} bytes`, 'no such file')];
  const at = firstDifference(bytes, found);
  return at === null
    ? []
    : [differs(path, `${hex(bytes, at)} at byte ${at}`, `${hex(found, at)}, ${found.length} bytes`)];
}

/**
 * Files beside those of the published tree: of the smaller trees that were published before, which begin what became of
 * them, and of one that is being published. Null for each that is in order.
 */
export async function* otherFiles(
  files: LogFiles,
  { published, known }: { readonly published: number; readonly known: number },
  isKept: (size: number) => Promise<boolean>,
): AsyncGenerator<Difference | null> {
  for await (const path of files.list()) {
    if (path === checkpointPath || path === followsPath) continue;
    const tile = tileAt(path);
    if (tile === null) yield differs(path, 'no such file', 'a file');
    else {
      const now = tileIn(published, tile.level, tile.index);
      if (now?.width === tile.width) continue;
      yield await olderFault(files, path, tile, now?.width ?? 0, { known, isKept });
    }
  }
}

async function olderFault(
  files: LogFiles,
  path: string,
  tile: TileAsked,
  width: number,
  { known, isKept }: { readonly known: number; readonly isKept: (size: number) => Promise<boolean> },
): Promise<Difference | null> {
  // The first tree that has it: what is above level 0 may be of later ones too.
  const size = (tile.index * tileWidth + tile.width) * tileWidth ** tile.level;
  if (tile.width > width) return size > known ? null : await beingPublished(files, path, tile);
  if (tile.level === 0 && !(await isKept(size))) return differs(path, `a kept checkpoint of ${size} leaves`, 'none');
  const [bytes, now] = [await files.read(path), await files.read(pathOf({ ...tile, width }))];
  const expected = now?.subarray(0, tile.width * bytesOf[tile.of]);
  const at = bytes === null || expected === undefined ? 0 : firstDifference(expected, bytes);
  return at === null ? null : differs(path, `what ${pathOf({ ...tile, width })} begins with`, `another at byte ${at}`);
}

/** Of leaves that are signed already, and published in a moment: at least whole. */
async function beingPublished(files: LogFiles, path: string, tile: TileAsked): Promise<Difference | null> {
  const length = (await files.read(path))?.length ?? 0;
  const expected = tile.width * bytesOf[tile.of];
  return length === expected ? null : differs(path, `${expected} bytes`, `${length} bytes`);
}

function firstDifference(a: Uint8Array, b: Uint8Array): number | null {
  if (Buffer.compare(a, b) === 0) return null;
  const at = a.findIndex((byte, index) => byte !== b[index]);
  return at < 0 ? a.length : at;
}

function hex(bytes: Uint8Array, at: number): string {
  return Buffer.from(bytes.subarray(at, at + 8)).toString('hex') || 'the end';
}

function differs(path: string, expected: string, found: string): Difference {
  return { table: 'LOG_DIR', key: `file=${path}`, column: '(bytes)', expected, found };
}
