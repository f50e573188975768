/** The files of the log, and what a writer that is killed leaves among them. */
import { mkdir, mkdtemp, readdir, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { logFiles } from '../../src/store/log-files.ts';

const folder = await mkdtemp(join(tmpdir(), 'asfitted-log-files-'));
afterAll(() => rm(folder, { recursive: true }));
const files = logFiles(join(folder, 'log'));
const bytes = Buffer.from('a tile');

const all = async () => {
  const entries = await readdir(join(folder, 'log'), { recursive: true, withFileTypes: true });
  return entries.filter((entry) => entry.isFile()).map((entry) => entry.name);
};
async function left(path: string, minutesOld: number): Promise<void> {
  const file = join(folder, 'log', path);
  await writeFile(file, bytes);
  const at = Date.now() / 1_000 - minutesOld * 60;
  await utimes(file, at, at);
}

it('nothing is swept where nothing was ever published', async () => {
  await files.sweep();
  expect(await readdir(folder)).toEqual([]);
});

it('drafts that are older than an hour are swept, and nothing else', async () => {
  await mkdir(join(folder, 'log/tile/0/000.p'), { recursive: true });
  await files.write('checkpoint', bytes);
  await files.write('tile/0/000.p/3', bytes);
  for (const path of ['checkpoint', 'tile/0/000.p/3']) await left(path, 6_000);
  const draft = (nth: number) => `9b2e7c1${nth}-0d4f-4c1a-8a55-1f0b6f2f9d3e`;
  await left(`checkpoint.${draft(1)}`, 61);
  await left(`tile/0/000.p/3.${draft(2)}`, 3_000);
  await left(`tile/0/000.p/4.${draft(3)}`, 59);
  await left('follows.old', 6_000);
  await files.sweep();
  expect((await all()).sort()).toEqual(['3', `4.${draft(3)}`, 'checkpoint', 'follows.old']);
  const listed: string[] = [];
  for await (const path of files.list()) listed.push(path);
  expect(listed.sort()).toEqual(['checkpoint', 'follows.old', 'tile/0/000.p/3']);
});
