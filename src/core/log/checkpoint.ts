/** What a log says of itself at a size (C2SP tlog-checkpoint): its origin, the size, and the root of the tree. */
import { hashBytes } from './hash.ts';
import { type Opened, openNote, type Signing, signNote, type VerifierKey } from './note.ts';

export type Checkpoint = {
  /** The name of the log; ours is the name of its key. */
  readonly origin: string;
  readonly size: number;
  readonly root: Uint8Array;
};

/** The text that is signed. */
export function checkpointText({ origin, size, root }: Checkpoint): string {
  return `${origin}\n${size}\n${Buffer.from(root).toString('base64')}\n`;
}

export function signCheckpoint(checkpoint: Checkpoint, signers: readonly Signing[]): string {
  return signNote(checkpointText(checkpoint), signers);
}

/** What the text of a note says; null where it is no checkpoint. Lines after the third are not read. */
export function checkpointIn(text: string): Checkpoint | null {
  const [origin, size, root, ...others] = text.split('\n');
  if (!origin || !size || !root || others.pop() !== '' || others.includes('')) return null;
  const bytes = Buffer.from(root, 'base64');
  const isSize = /^(0|[1-9]\d*)$/.test(size) && Number.isSafeInteger(Number(size));
  if (!isSize || bytes.length !== hashBytes || bytes.toString('base64') !== root) return null;
  return { origin, size: Number(size), root: new Uint8Array(bytes) };
}

export type OpenedCheckpoint =
  | Checkpoint
  | Extract<Opened, { fault: unknown }>
  | { readonly fault: 'not-a-checkpoint' | 'another-log' };

/** The checkpoint that one of these keys has signed for the log of its name. */
export function openCheckpoint(note: string, keys: readonly VerifierKey[]): OpenedCheckpoint {
  const opened = openNote(note, keys);
  if ('fault' in opened) return opened;
  const checkpoint = checkpointIn(opened.text);
  if (checkpoint === null) return { fault: 'not-a-checkpoint' };
  return opened.by.some(({ name }) => name === checkpoint.origin) ? checkpoint : { fault: 'another-log' };
}
