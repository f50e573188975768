/** Checking Ed25519 signatures (RFC 8032, pure Ed25519: no context, no hash before). Making them is an effect. */
import { createPublicKey, type KeyObject, verify } from 'node:crypto';

/** The key from its 32 bytes (RFC 8032 section 5.1.5). Throws a RangeError for another length. */
export function publicKeyOf(bytes: Uint8Array): KeyObject {
  if (bytes.length !== 32) throw new RangeError(`an Ed25519 public key has 32 bytes, not ${bytes.length}`);
  const x = Buffer.from(bytes).toString('base64url');
  return createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' });
}

/**
 * Whether the signature, 64 bytes in base64 (RFC 4648 section 4, padded), is this key's over the text's UTF-8.
 * False for a signature in any other spelling. Throws a RangeError for a key that isn't an Ed25519 public key.
 */
export function isSignedBy(publicKey: KeyObject, text: string, signature: string): boolean {
  if (publicKey.type !== 'public' || publicKey.asymmetricKeyType !== 'ed25519') {
    throw new RangeError('signatures are checked with an Ed25519 public key');
  }
  const bytes = Buffer.from(signature, 'base64');
  if (bytes.length !== 64 || bytes.toString('base64') !== signature) return false;
  return verify(null, Buffer.from(text, 'utf8'), publicKey, bytes);
}
