/** Signed notes and checkpoints against the published examples. */
import { createPrivateKey, createPublicKey, sign } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { checkpointIn, checkpointText, openCheckpoint, signCheckpoint } from '../../../src/core/log/checkpoint.ts';
import { isKeyName, keyIdOf, openNote, signNote, verifierKeyIn, verifierKeyText } from '../../../src/core/log/note.ts';

// A key and a note that golang.org/x/mod publishes with the tests of sumdb/note, which C2SP signed-note was made from;
// its private half is 32 bytes of zero.
const enochKey = 'EnochRoot+af0cfe78+ATtqJ7zOtqQtYqOo0CpvDXNlMhV3HeJDpjrASKGLWdop';
const text = "If you think cryptography is the answer to your problem,\nthen you don't know what your problem is.\n";
const enochLine =
  '— EnochRoot rwz+eBzmZa0SO3NbfRGzPCpDckykFXSdeX+MNtCOXm2/5n2tiOHp+vAF1aGrQ5ovTG01oOTGwnWLox33WWd1RvMc+QQ=\n';
// The example of C2SP signed-note.
const exampleKey = 'example.com/foo+530d903a+AekyeRrm56hApGFkyQR4ZCbV54Id2LKaANYcrnKv3U2k';
const exampleNote =
  'This is an example message.\n\n— example.com/foo Uw2QOkn8srV1yJGh2VYRlL1Tnagv1YEq6TfXppzi2ONncAlTgK7Ztg1ERYNZXsYjOBH3mFXmRKuwHjG1Yu72IneyaQM=\n';

const key = (vkey: string) => {
  const read = verifierKeyIn(vkey);
  if (read === null) throw new Error(`${vkey} is no key`);
  return read;
};
/** An Ed25519 key of its 32 bytes (RFC 8410 section 7). */
function signerOf(seed: Uint8Array, { name, keyId }: { name: string; keyId: string }) {
  const der = Buffer.concat([Buffer.from('302e020100300506032b657004220420', 'hex'), seed]);
  const privateKey = createPrivateKey({ key: der, format: 'der', type: 'pkcs8' });
  return { name, keyId, sign: (bytes: Uint8Array) => new Uint8Array(sign(null, bytes, privateKey)) };
}
const enoch = key(enochKey);
const enochSigner = signerOf(new Uint8Array(32), enoch);
// A second key, of the test's own.
const other = ownKey('asfitted.example/log', new Uint8Array(32).fill(7));
const otherLine = signNote(text, [other.signer]).slice(text.length + 1);

function ownKey(name: string, seed: Uint8Array) {
  const der = Buffer.concat([Buffer.from('302e020100300506032b657004220420', 'hex'), seed]);
  const spki = createPublicKey(createPrivateKey({ key: der, format: 'der', type: 'pkcs8' }));
  const publicKey = new Uint8Array(spki.export({ type: 'spki', format: 'der' }).subarray(-32));
  const verifier = { name, publicKey, keyId: keyIdOf(name, publicKey) };
  return { verifier, signer: signerOf(seed, verifier) };
}

describe('a key', () => {
  it.each([enochKey, exampleKey])('%s is read and written as published', (vkey) => {
    expect(verifierKeyText(key(vkey))).toBe(vkey);
  });

  it('is not read where any character of it is another, or is left out', () => {
    for (let at = 0; at < enochKey.length; at++) {
      const other = String.fromCharCode(enochKey.charCodeAt(at) + 1);
      expect(verifierKeyIn(enochKey.slice(0, at) + other + enochKey.slice(at + 1)), other).toBeNull();
      expect(verifierKeyIn(enochKey.slice(0, at) + enochKey.slice(at + 1))).toBeNull();
    }
  });

  it.each([
    ['asfitted.example/log', true],
    ['EnochRoot', true],
    ['', false],
    ['a b', false],
    ['a+b', false],
    ['a b', false],
    ['a\u0000b', false],
    ['\ud800', false],
  ])('may be called %j: %s', (name, may) => {
    expect(isKeyName(name)).toBe(may);
  });
});

describe('a note', () => {
  it('is signed as published, byte for byte: Ed25519 leaves no choice', () => {
    expect(signNote(text, [enochSigner])).toBe(`${text}\n${enochLine}`);
  });

  it.each([
    ['of one key', `${text}\n${enochLine}`, [enoch], [enoch]],
    ['of two', `${text}\n${enochLine}${otherLine}`, [other.verifier, enoch], [enoch, other.verifier]],
    ['of two, one of them unknown', `${text}\n${otherLine}${enochLine}`, [enoch], [enoch]],
    ['that is signed twice by one key', `${text}\n${enochLine}${enochLine}`, [enoch], [enoch]],
  ])('%s is opened', (_, note, keys, by) => {
    expect(openNote(note, keys)).toEqual({ text, by });
  });

  it('of the example of signed-note is opened', () => {
    expect(openNote(exampleNote, [key(exampleKey)])).toMatchObject({ text: 'This is an example message.\n' });
  });

  it.each([
    ['by nobody who is known', `${text}\n${otherLine}`, 'no-known-key'],
    [
      'under the name of a known key with another ID',
      `${text}\n${otherLine.replace('asfitted.example/log', 'EnochRoot')}`,
      'no-known-key',
    ],
    ['with another text', `${text.replace('answer', 'Answer')}\n${enochLine}`, 'bad-signature'],
    [
      'wrongly by one of the known',
      `${text}\n${otherLine}${enochLine.replace('rwz+eBzm', 'rwz+eBzn')}`,
      'bad-signature',
    ],
    ['with a line too many in its text', `${text}\n\n${enochLine}`, 'bad-signature'],
    ['by no line', `${text}\n`, 'malformed'],
    ['without its last newline', `${text}\n${enochLine.slice(0, -1)}`, 'malformed'],
    ['without its empty line', `${text}${enochLine}`, 'malformed'],
    ['by another dash', `${text}\n${enochLine.replace('—', '-')}`, 'malformed'],
    ['in base64 that has another spelling', `${text}\n${enochLine.replace('+QQ=', '+QR=')}`, 'malformed'],
    ['by too few bytes', `${text}\n— EnochRoot rwz+eA==\n`, 'malformed'],
    ['with a control character', `a\u0007b\n\n${enochLine}`, 'malformed'],
    ['a hundred times and more', `${text}\n${enochLine.repeat(101)}`, 'malformed'],
    ['with nothing to sign', `\n\n${enochLine}`, 'malformed'],
  ])('that is signed %s is not', (_, note, fault) => {
    expect(openNote(note, [enoch, other.verifier].slice(0, fault === 'no-known-key' ? 1 : 2))).toEqual({ fault });
  });

  it.each(['no newline', 'a\r\n', 'half \ud800\n'])('of the text %j is not signed', (bad) => {
    expect(() => signNote(bad, [enochSigner])).toThrow(RangeError);
  });
});

describe('a checkpoint', () => {
  // The example of C2SP tlog-checkpoint; its key is not published, its text is.
  const example = 'example.com/behind-the-sofa\n20852163\nCsUYapGGPo4dkMgIAUqom/Xajj7h2fB2MPA3j2jxq2I=\n';

  it('of the example of tlog-checkpoint is read and written as published', () => {
    const checkpoint = checkpointIn(example);
    expect(checkpoint).toMatchObject({ origin: 'example.com/behind-the-sofa', size: 20_852_163 });
    expect(checkpoint && checkpointText(checkpoint)).toBe(example);
    expect(checkpointIn(`${example}an extension\n`)).toEqual(checkpoint);
  });

  it.each([
    ['no root', 'a\n1\n'],
    ['no origin', example.replace('example.com/behind-the-sofa', '')],
    ['a size with a zero before it', example.replace('2085', '02085')],
    ['a size that is no number', example.replace('2085', '-2085')],
    ['a size beyond what is counted', example.replace('20852163', '9007199254740993')],
    ['a root of 31 bytes', `a\n1\n${Buffer.alloc(31).toString('base64')}\n`],
    ['a root in another spelling', example.replace('q2I=', 'q2J=')],
    ['an empty extension', `${example}\n`],
    ['an end without newline', example.slice(0, -1)],
  ])('is not one with %s', (_, bad) => {
    expect(checkpointIn(bad)).toBeNull();
  });

  it('is opened with the key of its log alone', () => {
    const ours = { origin: 'EnochRoot', size: 5, root: new Uint8Array(32).fill(9) };
    const note = signCheckpoint(ours, [enochSigner]);
    expect(openCheckpoint(note, [enoch])).toEqual(ours);
    expect(openCheckpoint(note, [other.verifier])).toEqual({ fault: 'no-known-key' });
    expect(openCheckpoint(note.replace('\n5\n', '\n6\n'), [enoch])).toEqual({ fault: 'bad-signature' });
    expect(openCheckpoint(signCheckpoint({ ...ours, origin: 'another' }, [enochSigner]), [enoch])).toEqual({
      fault: 'another-log',
    });
    expect(openCheckpoint(`${text}\n${enochLine}`, [enoch])).toEqual({ fault: 'not-a-checkpoint' });
  });
});
