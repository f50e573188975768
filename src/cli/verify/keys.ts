import { type VerifierKey, verifierKeyIn } from '../../core/log/note.ts';
import { Unreadable } from './outcome.ts';
import { mostText, readText } from './read-file.ts';

/** Each is a vkey (C2SP signed-note), or a file that holds one a line. @throws Unreadable for anything else */
export async function readKeys(given: readonly string[]): Promise<VerifierKey[]> {
  return (await Promise.all(given.map(keysIn))).flat();
}

async function keysIn(given: string): Promise<VerifierKey[]> {
  const key = verifierKeyIn(given);
  if (key !== null) return [key];
  // The base64 of a key may hold a slash, so what looks like a key is not looked for as a file.
  if (/\+[0-9a-f]{8}\+/.test(given))
    throw new Unreadable(`--key ${given} looks like a vkey and is none: a character of it was changed or is missing.`);
  const lines = (await readText(given, mostText)).split('\n').map((line) => line.trim());
  const keys = lines.flatMap((line, at) => {
    if (line === '') return [];
    const one = verifierKeyIn(line);
    if (one === null) throw new Unreadable(`${given}, line ${at + 1}, is no vkey (C2SP signed-note, Ed25519).`);
    return [one];
  });
  if (keys.length === 0) throw new Unreadable(`${given} holds no key.`);
  return keys;
}
