/** The files of a growing tree against the definition of the tree (RFC 6962 section 2.1), and the names of C2SP tlog-tiles. */
import { expect, it } from 'vitest';
import { bundleOf, pathOf, tilesOf, tileWidth } from '../../../src/core/log/tiles.ts';
import { Tiling } from '../../../src/core/log/tiling.ts';
import { mth } from './slow-tree.ts';

it.each([0, 1, 255, 256, 257, 512, 700, 65_536, 65_800])(
  'a tree of %i leaves has these files and no others',
  (size) => {
    const entries = Array.from({ length: size }, (_, at) => Buffer.from(`leaf ${at}`));
    const tiling = new Tiling();
    const files = new Map(
      [...entries.flatMap((entry) => tiling.add(entry)), ...tiling.edge()].map(({ path, bytes }) => [path, bytes]),
    );
    const expected = [...tilesOf(size)].flatMap((tile) => {
      const first = tile.index * tileWidth;
      const width = tileWidth ** tile.level;
      const hashes = Array.from({ length: tile.width }, (_, at) =>
        mth(entries.slice((first + at) * width, (first + at + 1) * width)),
      );
      const one = [pathOf({ ...tile, of: 'hashes' }), Buffer.concat(hashes)] as const;
      const bundle = [pathOf({ ...tile, of: 'entries' }), bundleOf(entries.slice(first, first + tile.width))] as const;
      return tile.level === 0 ? [one, bundle] : [one];
    });
    expect([...files.keys()].sort()).toEqual(expected.map(([path]) => path).sort());
    const wrong = expected.filter(([path, bytes]) => Buffer.compare(bytes, files.get(path) ?? Buffer.alloc(0)) !== 0);
    expect(wrong.map(([path]) => path)).toEqual([]);
  },
);
