import { randomBytes } from 'node:crypto';
import {
  existsSync,
  linkSync,
  mkdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join, resolve } from 'node:path';
import { z } from 'zod';
import { type Account, canReach, ownerOf } from './account.ts';
import { systemFolder } from './system-folder.ts';

/**
 * What DATA_DIR/postgres.json (mode 0600) keeps: where the cluster lies, the passwords, and whether a cluster was
 * ever finished there. Without the last, a folder that somebody wiped would come back as an empty database.
 */
const kept = z.object({
  home: z.string(),
  finished: z.boolean(),
  passwords: z.object({ superuser: z.string(), owner: z.string(), service: z.string() }),
});
export type Place = z.infer<typeof kept> & { readonly file: string; readonly cluster: string };

/** Opens DATA_DIR, or makes it. Of two that make it at once, one wins and both get the same answer. */
export function openPlace(dataDir: string, account: Account | null, log: (line: string) => void): Place {
  const asked = resolve(dataDir);
  // The server's account must be able to pass through; the passwords in it have a mode of their own.
  mkdirSync(asked, { recursive: true, mode: account === null ? 0o700 : 0o755 });
  const folder = realpathSync(asked);
  const file = join(folder, 'postgres.json');
  if (!existsSync(file))
    createOnce(file, { home: chooseHome(folder, account), finished: false, passwords: newPasswords() });
  const place = readPlace(file);
  if (place.home !== folder)
    log(`${folder} can't be reached by ${account?.name ?? 'the server'}: the database lies in ${place.home}`);
  refuseUnusable(place, account);
  return place;
}

export function markFinished(place: Place): void {
  const { home, passwords } = place;
  const unfinished = `${place.file}.${randomBytes(6).toString('hex')}`;
  writeFileSync(unfinished, text({ home, finished: true, passwords }), { mode: 0o600, flush: true });
  renameSync(unfinished, place.file);
}

function chooseHome(folder: string, account: Account | null): string {
  if (account === null || canReach(account, folder)) return folder;
  return join(systemFolder(account), `data-${randomBytes(8).toString('hex')}`);
}

function createOnce(file: string, content: z.infer<typeof kept>): void {
  const unfinished = `${file}.${randomBytes(6).toString('hex')}`;
  writeFileSync(unfinished, text(content), { mode: 0o600, flush: true });
  try {
    linkSync(unfinished, file);
  } catch (error) {
    if (!existsSync(file)) throw error;
  } finally {
    rmSync(unfinished, { force: true });
  }
}

export function readPlace(file: string): Place {
  try {
    const content = kept.parse(JSON.parse(readFileSync(file, 'utf8')));
    return { ...content, file, cluster: join(content.home, 'cluster') };
  } catch (error) {
    throw new Error(
      `${file} can't be read; it says where the database lies and holds its passwords. Restore it from a backup.`,
      {
        cause: error,
      },
    );
  }
}

function refuseUnusable(place: Place, account: Account | null): void {
  if (!existsSync(place.cluster)) {
    if (!place.finished) return;
    throw new Error(
      `The database of ${place.file} should lie in ${place.cluster}, and isn't there. Restore it, or remove ${place.file} to begin with an empty one.`,
    );
  }
  const owner = account === null ? null : ownerOf(place.cluster);
  if (owner !== null && !canReach(owner, place.cluster)) {
    throw new Error(
      `The user ${owner.name}, who owns ${place.cluster}, can't reach it: some folder above it lets nobody else pass. Give that folder the mode 0711 or 0755.`,
    );
  }
}

function newPasswords(): Place['passwords'] {
  const password = () => randomBytes(24).toString('base64url');
  return { superuser: password(), owner: password(), service: password() };
}

function text(content: z.infer<typeof kept>): string {
  return `${JSON.stringify(content, null, 2)}\n`;
}
