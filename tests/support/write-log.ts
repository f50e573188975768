/**
 * A log as files, of entries that stand for nothing: `node tests/support/write-log.ts FOLDER COUNT` writes one and prints
 * its key, for `npm run -s verify -- log FOLDER --key KEY`.
 */
import { createHash } from 'node:crypto';
import { publish } from '../../src/app/log/published.ts';
import { signCheckpoint } from '../../src/core/log/checkpoint.ts';
import { Frontier } from '../../src/core/log/frontier.ts';
import { hashOfLeaf } from '../../src/core/log/hash.ts';
import type { Signing } from '../../src/core/log/note.ts';
import { logFiles } from '../../src/store/log-files.ts';
import { testKey } from '../core/log/small-log.ts';

export function entryAt(index: number): Buffer {
  return createHash('sha256').update(`entry ${index}`).digest();
}

export function entriesUpTo(count: number): Buffer[] {
  return Array.from({ length: count }, (_, index) => entryAt(index));
}

/** The checkpoint of these entries. */
export function checkpointOf(entries: readonly Uint8Array[], key: Signing): string {
  const tree = new Frontier();
  for (const entry of entries) tree.add(hashOfLeaf(entry));
  return signCheckpoint({ origin: key.name, size: tree.size, root: tree.root() }, [key]);
}

export async function writeLog(folder: string, entries: readonly Buffer[], key: Signing): Promise<void> {
  const read = async (from: number, count: number) =>
    entries.slice(from, from + count).map((entry) => entry.toString('hex'));
  await publish(logFiles(folder), read, 0, { size: entries.length, note: checkpointOf(entries, key) });
}

if (import.meta.main) {
  const [folder, count] = process.argv.slice(2);
  if (folder === undefined || count === undefined) throw new Error('name a folder, and how many entries');
  const key = testKey(1);
  await writeLog(folder, entriesUpTo(Number(count)), key);
  console.log(key.vkey);
}
