/** Two services on one database, told to record at the same instant; of the sources as they are, or with a guard taken out. */
import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll } from 'vitest';
import type { TestDatabase } from './database.ts';
import type { Finish, Start } from './racer.ts';
import { askerOf } from './service.ts';

export const root = resolve(import.meta.dirname, '../..');
const folder = mkdtempSync(join(tmpdir(), 'asfitted-race-'));
const children: ChildProcess[] = [];
afterAll(() => {
  for (const child of children) child.disconnect();
  rmSync(folder, { recursive: true });
});

export type Patch = { readonly file: string; readonly from: string; readonly to: string };

/** A copy of the sources with these changes; its packages are ours. */
export function patched(name: string, patches: readonly Patch[]): string {
  const copy = join(folder, name);
  cpSync(join(root, 'src'), join(copy, 'src'), { recursive: true });
  cpSync(join(root, 'package.json'), join(copy, 'package.json'));
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'));
  for (const { file, from, to } of patches) {
    const path = join(copy, 'src', file);
    const text = readFileSync(path, 'utf8');
    if (text.split(from).length !== 2) throw new Error(`${file} doesn't hold the text to change once`);
    writeFileSync(
      path,
      text.replace(from, () => to),
    );
  }
  return copy;
}

/** Both are ready when this is; each gives what became of what it was sent. */
export async function twoRacers(sources: string, db: TestDatabase) {
  const pair = [0, 1].map(() => fork(join(root, 'tests/support/racer.ts'), [sources, db.serviceUrl, folder]));
  children.push(...pair);
  for (const child of pair) await once(child, 'message');
  const asker = askerOf({ distributor: 'brackwater' });
  return async (records: readonly object[]): Promise<Finish[]> => {
    const at = Date.now() + 3;
    return await Promise.all(
      pair.map(async (child, by) => {
        const start: Start = { asker, scopes: [...asker.scopes], sent: records[by] ?? {}, at };
        const finished = once(child, 'message');
        child.send(start);
        return (await finished)[0] as Finish;
      }),
    );
  };
}
