/**
 * What a log says of the one before it, where that could not be gone on with: a signed note under the name of the new log.
 *
 *     <name of this log>
 *     follows
 *     <name of the old log>
 *     <size of its last known checkpoint>
 *     <root of that checkpoint, in base64>
 *     <why>
 *
 * Its second line is no number, so it can't be taken for a checkpoint.
 */
import { type Checkpoint, checkpointIn, checkpointText } from './checkpoint.ts';
import { type Opened, openNote, type Signing, signNote, type VerifierKey } from './note.ts';

export type Follows = {
  /** The name of the new log. */
  readonly origin: string;
  /** The last checkpoint that is known of the old one. */
  readonly after: Checkpoint;
  /** One line. */
  readonly reason: string;
};

/** @throws RangeError for a reason that is no line of text */
export function signFollows({ origin, after, reason }: Follows, signers: readonly Signing[]): string {
  if (reason.trim() === '' || reason.includes('\n')) throw new RangeError('a reason is one line of text');
  return signNote(`${origin}\nfollows\n${checkpointText(after)}${reason}\n`, signers);
}

/** Signed by a key of these that has the name of the new log. */
export function openFollows(
  note: string,
  keys: readonly VerifierKey[],
): Follows | Extract<Opened, { fault: unknown }> | { readonly fault: 'not-such-a-note' | 'another-log' } {
  const opened = openNote(note, keys);
  if ('fault' in opened) return opened;
  const [origin = '', word, name, size, root, reason, ...rest] = opened.text.split('\n');
  const after = checkpointIn(`${name}\n${size}\n${root}\n`);
  if (word !== 'follows' || after === null || !reason || rest.length !== 1) return { fault: 'not-such-a-note' };
  return opened.by.some((key) => key.name === origin) ? { origin, after, reason } : { fault: 'another-log' };
}
