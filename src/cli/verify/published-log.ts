/** Where the files of a log are read (C2SP tlog-tiles), whoever gives them out. */
import { join } from 'node:path';
import { readBytes } from './read-file.ts';

export type PublishedLog = {
  /**
   * Null: it has no such file; `too-much`: it has more bytes than `most`.
   * @throws Unreadable where that can't be found out
   */
  readonly read: (path: string, most: number) => Promise<Buffer | 'too-much' | null>;
};

export function logInFolder(folder: string): PublishedLog {
  return { read: async (path, most) => await readBytes(join(folder, path), most) };
}
