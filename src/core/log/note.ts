/**
 * Signed notes (C2SP signed-note) with Ed25519: a text, an empty line, and a line for each signature,
 * `— name base64( key ID (4 bytes) ‖ signature (64 bytes) )`, over the UTF-8 of the text with its last newline.
 */
import { createHash } from 'node:crypto';
import { isSignedBy, publicKeyOf } from './signature.ts';

/** The type byte of Ed25519. */
const ed25519 = 0x01;
/** More than a note is asked to have; what is longer is nobody's note. */
const mostSignatures = 100;

export type VerifierKey = {
  readonly name: string;
  /** Eight hexadecimal digits. */
  readonly keyId: string;
  /** The 32 bytes of RFC 8032. */
  readonly publicKey: Uint8Array;
};
export type Signing = Pick<VerifierKey, 'name' | 'keyId'> & {
  /** The 64 bytes of an Ed25519 signature (RFC 8032). */
  readonly sign: (bytes: Uint8Array) => Uint8Array;
};

/** The first 4 bytes of SHA-256( name ‖ newline ‖ type ‖ public key ), in hexadecimal. */
export function keyIdOf(name: string, publicKey: Uint8Array): string {
  const hash = createHash('sha256').update(`${name}\n`).update(Uint8Array.of(ed25519)).update(publicKey);
  return hash.digest('hex').slice(0, 8);
}

/** `name+key ID+base64( type ‖ public key )`. */
export function verifierKeyText({ name, keyId, publicKey }: VerifierKey): string {
  return `${name}+${keyId}+${Buffer.concat([Uint8Array.of(ed25519), publicKey]).toString('base64')}`;
}

/** Null for what is no such text, or has another key's ID. */
export function verifierKeyIn(text: string): VerifierKey | null {
  const [, name, keyId, base64] = /^([^+\s]+)\+([0-9a-f]{8})\+([A-Za-z0-9+/]{44})$/.exec(text) ?? [];
  if (name === undefined || keyId === undefined || base64 === undefined) return null;
  const typed = Buffer.from(base64, 'base64');
  if (typed.toString('base64') !== base64 || typed[0] !== ed25519) return null;
  const publicKey = new Uint8Array(typed.subarray(1));
  return keyIdOf(name, publicKey) === keyId ? { name, keyId, publicKey } : null;
}

export function isKeyName(name: string): boolean {
  return /^[^+\s\p{Cc}]+$/u.test(name) && name.isWellFormed();
}

/** @throws RangeError for a text that does not end with a newline, or holds other control characters */
export function signNote(text: string, signers: readonly Signing[]): string {
  if (!isNoteText(text)) throw new RangeError('a note is text of whole lines');
  const lines = signers.map(({ name, keyId, sign }) => {
    const signature = sign(Buffer.from(text, 'utf8'));
    return `— ${name} ${Buffer.concat([Buffer.from(keyId, 'hex'), signature]).toString('base64')}\n`;
  });
  return `${text}\n${lines.join('')}`;
}

export type Opened =
  | { readonly text: string; readonly by: readonly VerifierKey[] }
  /** One word for why its text is not to be read. */
  | { readonly fault: 'malformed' | 'no-known-key' | 'bad-signature' };

/** The text, if one of these keys has signed it and none of them wrongly. Signatures of other keys count for nothing. */
export function openNote(note: string, keys: readonly VerifierKey[]): Opened {
  const end = note.lastIndexOf('\n\n');
  const text = note.slice(0, end + 1);
  const rest = note.slice(end + 2);
  if (end < 1 || !rest.endsWith('\n') || !isNoteText(text)) return { fault: 'malformed' };
  const lines = rest.slice(0, -1).split('\n');
  const signatures = lines.map(signatureIn);
  if (lines.length > mostSignatures || signatures.includes(null)) return { fault: 'malformed' };
  const by: VerifierKey[] = [];
  for (const one of signatures) {
    const key = keys.find(({ name, keyId }) => name === one?.name && keyId === one.keyId);
    if (one === null || key === undefined || by.includes(key)) continue;
    if (!isSignedBy(publicKeyOf(key.publicKey), text, one.signature)) return { fault: 'bad-signature' };
    by.push(key);
  }
  return by.length === 0 ? { fault: 'no-known-key' } : { text, by };
}

function signatureIn(line: string) {
  const [, name, base64] = /^— ([^+\s]+) ([A-Za-z0-9+/]+={0,2})$/.exec(line) ?? [];
  if (name === undefined || base64 === undefined) return null;
  const bytes = Buffer.from(base64, 'base64');
  if (bytes.toString('base64') !== base64 || bytes.length < 5) return null;
  return { name, keyId: bytes.toString('hex', 0, 4), signature: bytes.toString('base64', 4) };
}

function isNoteText(text: string): boolean {
  return text.endsWith('\n') && text.isWellFormed() && [...text].every((one) => one >= ' ' || one === '\n');
}
