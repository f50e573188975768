import { createPrivateKey, createPublicKey, generateKeyPairSync, sign } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { type Receipt, receiptBody, receiptSchema, verifyReceipt } from '../../../src/core/log/receipt.ts';
import { isSignedBy, publicKeyOf } from '../../../src/core/log/signature.ts';

/**
 * RFC 8032 section 7.1, tests 1 and 2: seed, public key, message, signature. From memory; that the four belong
 * together was confirmed by signing with node:crypto, which the first test repeats.
 */
const vectors = [
  [
    '9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60',
    'd75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a',
    '',
    'e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc61e39701cf9b46bd25bf5f0595bbe24655141438e7a100b',
  ],
  [
    '4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb',
    '3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c',
    'r',
    '92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00',
  ],
] as const;

describe('an Ed25519 signature', () => {
  it.each(vectors)('of the seed %s verifies as RFC 8032 says', (seed, publicKey, message, signature) => {
    const base64 = Buffer.from(signature, 'hex').toString('base64');
    expect(sign(null, Buffer.from(message), privateKeyOf(seed)).toString('hex')).toBe(signature);
    const key = publicKeyOf(Buffer.from(publicKey, 'hex'));
    expect(isSignedBy(key, message, base64)).toBe(true);
    expect(isSignedBy(key, `${message}x`, base64)).toBe(false);
    expect(isSignedBy(publicKeyOf(Buffer.from(vectors[1][0], 'hex')), message, base64)).toBe(false);
  });

  it('has one spelling only', () => {
    const [, publicKey, message, signature] = vectors[0];
    const bytes = Buffer.from(signature, 'hex');
    const key = publicKeyOf(Buffer.from(publicKey, 'hex'));
    const spellings = [
      bytes.toString('base64url'),
      bytes.toString('base64').replace(/=+$/, ''),
      ` ${bytes.toString('base64')}`,
      bytes.toString('hex'),
      bytes.subarray(1).toString('base64'),
      '',
    ];
    expect(spellings.filter((spelling) => isSignedBy(key, message, spelling))).toEqual([]);
  });

  it('is checked with an Ed25519 public key and no other', () => {
    const { publicKey } = generateKeyPairSync('ec', { namedCurve: 'P-256' });
    expect(() => isSignedBy(publicKey, '', '')).toThrow(RangeError);
    expect(() => isSignedBy(privateKeyOf(vectors[0][0]), '', '')).toThrow(RangeError);
    expect(() => publicKeyOf(new Uint8Array(31))).toThrow('32 bytes, not 31');
  });
});

const perSection = (text: string) => ({ origin: text, statement: text, judgement: text, private: text });
const fields = {
  key: 'receipts-1',
  entry: 'e'.repeat(64),
  subjects: [
    { unit: '01975b3e-8f00-7000-8000-00000000000b', seq: 4, prev: 'd'.repeat(64) },
    { unit: '01975b3e-8f00-7000-8000-00000000000a', seq: 1, prev: null },
  ],
  recordedAt: '2026-03-14T09:25:00.000001Z',
  digests: perSection('a'.repeat(64)),
  salts: perSection('5'.repeat(32)),
};
const privateKey = privateKeyOf(vectors[0][0]);
const publicKey = createPublicKey(privateKey);
const signature = sign(null, Buffer.from(receiptBody(fields)), privateKey).toString('base64');
const receipt: Receipt = { ...fields, signature };

describe('a receipt', () => {
  it('is signed over exactly this text', () => {
    const four = (text: string) =>
      `{"judgement":"${text}","origin":"${text}","private":"${text}","statement":"${text}"}`;
    expect(receiptBody(fields)).toBe(
      `{"digests":${four('a'.repeat(64))},"entry":"${'e'.repeat(64)}","key":"receipts-1",` +
        `"recordedAt":"2026-03-14T09:25:00.000001Z","salts":${four('5'.repeat(32))},"subjects":[` +
        '{"prev":null,"seq":1,"unit":"01975b3e-8f00-7000-8000-00000000000a"},' +
        `{"prev":"${'d'.repeat(64)}","seq":4,"unit":"01975b3e-8f00-7000-8000-00000000000b"}]}`,
    );
  });

  it('verifies with the key that signed it, sent and read again, with members in any order', () => {
    expect(verifyReceipt(receipt, publicKey)).toBe(true);
    const again = Object.fromEntries(Object.entries(JSON.parse(JSON.stringify(receipt))).reverse());
    expect(verifyReceipt(receiptSchema.parse(again), publicKey)).toBe(true);
  });

  it('does not verify with another key', () => {
    expect(verifyReceipt(receipt, generateKeyPairSync('ed25519').publicKey)).toBe(false);
  });

  it.each<[string, Partial<Receipt>]>([
    ['key', { key: 'receipts-2' }],
    ['entry', { entry: 'f'.repeat(64) }],
    ['unit', { subjects: receipt.subjects.map((one) => ({ ...one, unit: `${one.unit.slice(0, -1)}c` })) }],
    ['seq', { subjects: receipt.subjects.map((one) => ({ ...one, seq: one.seq + 1 })) }],
    ['prev', { subjects: receipt.subjects.map((one) => ({ ...one, prev: null })) }],
    ['subject left out', { subjects: receipt.subjects.slice(1) }],
    ['recordedAt', { recordedAt: '2026-03-14T09:25:00.000002Z' }],
    ['digest', { digests: { ...receipt.digests, private: 'b'.repeat(64) } }],
    ['salt', { salts: { ...receipt.salts, origin: '6'.repeat(32) } }],
    ['signature', { signature: Buffer.alloc(64).toString('base64') }],
  ])('does not verify with another %s', (_, change) => {
    expect(verifyReceipt({ ...receipt, ...change }, publicKey)).toBe(false);
  });

  it.each([
    ['a member that is not signed', { pending: true }],
    ['a salt of another length', { salts: { ...receipt.salts, origin: '' } }],
    ['upper-case digits', { entry: 'E'.repeat(64) }],
    ['a time in another form', { recordedAt: '2026-03-14T10:25:00+01:00' }],
    ['seq 0', { subjects: [{ unit: '01975b3e-8f00-7000-8000-00000000000b', seq: 0, prev: null }] }],
  ])('is refused by its schema with %s', (_, change) => {
    expect(receiptSchema.safeParse({ ...receipt, ...change }).success).toBe(false);
  });

  it('has a JSON schema', () => {
    expect(z.toJSONSchema(receiptSchema)).toMatchObject({ type: 'object', additionalProperties: false });
  });
});

/** An Ed25519 private key from its seed: PKCS #8 as RFC 8410 section 7 shows it. */
function privateKeyOf(seed: string) {
  return createPrivateKey({
    key: Buffer.from(`302e020100300506032b657004220420${seed}`, 'hex'),
    format: 'der',
    type: 'pkcs8',
  });
}
