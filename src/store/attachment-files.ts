/** The bytes of attachments, in files named by their content below DATA_DIR. What is of whom is kept in the database. */
import { randomUUID } from 'node:crypto';
import { mkdir, open, readFile, rename, stat } from 'node:fs/promises';
import { join } from 'node:path';

export type AttachmentFiles = {
  /** Once it resolves the bytes outlast a crash. The same content again changes nothing. */
  readonly keep: (digest: string, bytes: Uint8Array) => Promise<void>;
  /** Null: there is no such file. */
  readonly read: (digest: string) => Promise<Buffer | null>;
};

export function attachmentFiles(dataDir: string): AttachmentFiles {
  const placeOf = (digest: string) => {
    const hex = digest.replace(/^sha256:/, '');
    if (!/^[0-9a-f]{64}$/.test(hex)) throw new Error(`${digest} is no digest`);
    const folder = join(dataDir, 'attachments', hex.slice(0, 2));
    return { folder, file: join(folder, hex) };
  };
  return {
    async keep(digest, bytes) {
      const { folder, file } = placeOf(digest);
      if (await isThere(file, bytes.length)) return;
      await mkdir(folder, { recursive: true, mode: 0o700 });
      const half = join(folder, `.${randomUUID()}`);
      await writeSynced(half, bytes);
      await rename(half, file);
      await syncFolder(folder);
    },
    async read(digest) {
      try {
        return await readFile(placeOf(digest).file);
      } catch (error) {
        if (isMissing(error)) return null;
        throw error;
      }
    },
  };
}

async function isThere(file: string, size: number): Promise<boolean> {
  try {
    return (await stat(file)).size === size;
  } catch (error) {
    if (isMissing(error)) return false;
    throw error;
  }
}

async function writeSynced(file: string, bytes: Uint8Array): Promise<void> {
  const handle = await open(file, 'wx', 0o600);
  try {
    await handle.writeFile(bytes);
    await handle.sync();
  } finally {
    await handle.close();
  }
}

async function syncFolder(folder: string): Promise<void> {
  const handle = await open(folder);
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

function isMissing(error: unknown): boolean {
  return error instanceof Error && 'code' in error && error.code === 'ENOENT';
}
