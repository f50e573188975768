/** The log as files, named as it is served (C2SP tlog-tiles): any web server may give them out. */
import { randomUUID } from 'node:crypto';
import { mkdir, open, opendir, readFile, rename, rm, stat } from 'node:fs/promises';
import { dirname, join, relative } from 'node:path';

export type LogFiles = {
  /** Null where there is no such file. */
  readonly read: (path: string) => Promise<Buffer | null>;
  /** Whole or not at all, and still there after a crash; what was there before is replaced. */
  readonly write: (path: string, bytes: Uint8Array) => Promise<void>;
  /** The path of every file that is there, but for drafts that a crash left. */
  readonly list: () => AsyncIterable<string>;
  /** A folder or file with all that is in it, if it is there. */
  readonly remove: (path: string) => Promise<void>;
  /** Takes away the drafts of writers that were killed: those too old for anybody to be writing still. */
  readonly sweep: () => Promise<void>;
};

/** A draft is written in one go, and renamed: milliseconds. */
const draftIsLeftAfterMs = 3_600_000;

/** `directory` is made with the first file. Paths come from `pathOf` and constants alone. */
export function logFiles(directory: string): LogFiles {
  return {
    read: async (path) =>
      await readFile(join(directory, path)).catch((error: unknown) => {
        if (isMissing(error)) return null;
        throw error;
      }),
    write: async (path, bytes) => {
      const file = join(directory, path);
      await mkdir(dirname(file), { recursive: true });
      const draft = `${file}.${randomUUID()}`;
      const handle = await open(draft, 'wx', 0o644);
      try {
        await handle.writeFile(bytes);
        await handle.sync();
      } finally {
        await handle.close();
      }
      await rename(draft, file);
      await syncFolder(dirname(file));
    },
    list: async function* () {
      for await (const path of filesIn(directory)) if (!draft.test(path)) yield path;
    },
    remove: async (path) => await rm(join(directory, path), { recursive: true, force: true }),
    sweep: async () => {
      for await (const path of filesIn(directory)) {
        if (draft.test(path) && (await isLeft(join(directory, path)))) await rm(join(directory, path), { force: true });
      }
    },
  };
}

/** A name, too, is kept only then. Windows opens no folder, and keeps names by itself. */
async function syncFolder(path: string): Promise<void> {
  if (process.platform === 'win32') return;
  const folder = await open(path);
  try {
    await folder.sync();
  } finally {
    await folder.close();
  }
}

async function isLeft(file: string): Promise<boolean> {
  const { mtimeMs } = await stat(file).catch((error: unknown) => {
    // Renamed or swept by another since it was listed.
    if (isMissing(error)) return { mtimeMs: Date.now() };
    throw error;
  });
  return Date.now() - mtimeMs > draftIsLeftAfterMs;
}

const draft = /\.[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

async function* filesIn(directory: string): AsyncGenerator<string> {
  const entries = await opendir(directory, { recursive: true }).catch((error: unknown) => {
    if (isMissing(error)) return [];
    throw error;
  });
  for await (const entry of entries) {
    if (entry.isFile()) yield relative(directory, join(entry.parentPath, entry.name));
  }
}

function isMissing(error: unknown): boolean {
  return error instanceof Error && 'code' in error && (error.code === 'ENOENT' || error.code === 'ENOTDIR');
}
