/** The note in which a log names the one before it. */
import { generateKeyPairSync, sign } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { checkpointIn, checkpointText } from '../../../src/core/log/checkpoint.ts';
import { openFollows, signFollows } from '../../../src/core/log/follows.ts';
import { keyIdOf, signNote } from '../../../src/core/log/note.ts';

const { privateKey, publicKey: key } = generateKeyPairSync('ed25519');
const publicKey = new Uint8Array(key.export({ type: 'spki', format: 'der' }).subarray(-32));
const signerOf = (name: string) => ({
  ...{ name, publicKey, keyId: keyIdOf(name, publicKey) },
  sign: (bytes: Uint8Array) => new Uint8Array(sign(null, bytes, privateKey)),
});
const signer = signerOf('new.example/log');
const after = { origin: 'old.example/log', size: 7, root: new Uint8Array(32).fill(9) };
const follows = { origin: signer.name, after, reason: 'The last backup was of the day before.' };
const note = signFollows(follows, [signer]);

describe('the note of a log that follows another', () => {
  it('says which, how far that was known, and why', () => {
    expect(openFollows(note, [signer])).toEqual(follows);
    expect(note.split('\n').slice(0, 6)).toEqual([
      ...['new.example/log', 'follows', 'old.example/log', '7'],
      ...[Buffer.from(after.root).toString('base64'), follows.reason],
    ]);
  });

  it('is no checkpoint, and a checkpoint no such note', () => {
    expect(checkpointIn(note.slice(0, note.indexOf('\n\n') + 1))).toBeNull();
    const checkpoint = signNote(checkpointText({ ...after, origin: signer.name }), [signer]);
    expect(openFollows(checkpoint, [signer])).toEqual({ fault: 'not-such-a-note' });
  });

  it.each([
    ['another word', 'new.example/log\nafter\nold\n7\nCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQk=\nwhy\n'],
    ['no checkpoint', 'new.example/log\nfollows\nold\n07\nCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQk=\nwhy\n'],
    ['no reason', 'new.example/log\nfollows\nold\n7\nCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQk=\n'],
    ['two reasons', 'new.example/log\nfollows\nold\n7\nCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQkJCQk=\nwhy\nwhy\n'],
  ])('with %s is none', (_, text) => {
    expect(openFollows(signNote(text, [signer]), [signer])).toEqual({ fault: 'not-such-a-note' });
  });

  it('counts when a known key of the new name has signed it', () => {
    expect(openFollows(note, [])).toEqual({ fault: 'no-known-key' });
    const other = signerOf('other.example/log');
    expect(openFollows(signFollows(follows, [other]), [other])).toEqual({ fault: 'another-log' });
  });

  it.each(['', ' ', 'two\nlines'])('is not signed for the reason %j', (reason) => {
    expect(() => signFollows({ ...follows, reason }, [signer])).toThrow('one line of text');
  });
});
