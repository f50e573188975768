/** The log as files, named as it is served (C2SP tlog-tiles): any web server may give them out. */
import { randomUUID } from 'node:crypto';
import { mkdir, open, readFile, rename, rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';

export type LogFiles = {
  /** Null where there is no such file. */
  readonly read: (path: string) => Promise<Buffer | null>;
  /** Whole or not at all, and still there after a crash; what was there before is replaced. */
  readonly write: (path: string, bytes: Uint8Array) => Promise<void>;
  /** A folder or file with all that is in it, if it is there. */
  readonly remove: (path: string) => Promise<void>;
};

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
    },
    remove: async (path) => await rm(join(directory, path), { recursive: true, force: true }),
  };
}

function isMissing(error: unknown): boolean {
  return error instanceof Error && 'code' in error && (error.code === 'ENOENT' || error.code === 'ENOTDIR');
}
