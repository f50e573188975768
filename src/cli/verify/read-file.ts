/** Files of unknown origin: of a stated size, in UTF-8, JSON that has one meaning alone, and of the shape expected. */
import { constants } from 'node:fs';
import { open } from 'node:fs/promises';
import type { z } from 'zod';
import { type JsonValue, parseStrict } from '../../core/json/parse-strict.ts';
import { pointerOf } from '../../core/json/pointer.ts';
import { explain, placesOf } from '../../core/json/schema-places.ts';
import { Unreadable } from './outcome.ts';

/** Bytes. A chain of ten thousand records has about 25 MB. */
export const mostJson = 32 * 2 ** 20;
/** Bytes of a checkpoint, or of a file of keys. */
export const mostText = 64 * 2 ** 10;
/** Of the places that are wrong in one file: more help nobody. */
const mostPlaces = 20;

/** @throws Unreadable that names the file */
export async function readJson(path: string): Promise<JsonValue> {
  const parsed = parseStrict(await readText(path, mostJson));
  if ('value' in parsed) return parsed.value;
  const { pointer, detail } = parsed.problem;
  throw new Unreadable(`${path} is not JSON as it should be${pointer === '' ? '' : `, at ${pointer}`}: ${detail}.`);
}

/** @throws Unreadable that names every place */
export function shaped<T extends z.ZodType>(schema: T, value: unknown, path: string, what: string): z.infer<T> {
  const { data, error } = schema.safeParse(value, { error: explain });
  if (error === undefined) return data as z.infer<T>;
  const places = placesOf(error.issues);
  const lines = places.slice(0, mostPlaces).map((one) => `${pointerOf(one.path) || '(the whole)'}: ${one.detail}`);
  const more = places.length > mostPlaces ? [`and ${places.length - mostPlaces} more`] : [];
  throw new Unreadable([`${path} is not ${what}:`, ...lines, ...more].join('\n'));
}

/** @throws Unreadable that names the file */
export async function readText(path: string, most: number): Promise<string> {
  const bytes = await readBytes(path, most);
  if (bytes === null) throw new Unreadable(`${path} can't be read: there is no such file.`);
  if (bytes === 'too-much') throw new Unreadable(`${path} has more than ${most} bytes, which is more than is read.`);
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new Unreadable(`${path} is not text in UTF-8.`);
  }
}

/** Null: there is no such file. @throws Unreadable for what is there and is no file, or not to be read */
export async function readBytes(path: string, most: number): Promise<Buffer | 'too-much' | null> {
  try {
    // What is no file might never end, or never begin: a pipe is not waited for.
    const file = await open(path, constants.O_RDONLY | constants.O_NONBLOCK);
    try {
      const stat = await file.stat();
      if (!stat.isFile()) throw new Unreadable(`${path} is not a file.`);
      return stat.size > most ? 'too-much' : await file.readFile();
    } finally {
      await file.close();
    }
  } catch (error) {
    if (error instanceof Unreadable) throw error;
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown';
    if (code === 'ENOENT' || code === 'ENOTDIR') return null;
    throw new Unreadable(`${path} can't be read (${code}).`);
  }
}
