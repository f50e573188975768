/**
 * Checks a receipt as somebody would who has the record, the receipt and the public key, and none of our code: with
 * node:crypto, the npm package canonicalize (RFC 8785) and what the description says of digests, entries and receipts.
 */
import { createHash, createPublicKey, verify } from 'node:crypto';
import canonicalize from 'canonicalize';

// biome-ignore lint/suspicious/noExplicitAny: answers are read as JSON, field by field
type Json = any;

const sections = ['origin', 'statement', 'judgement', 'private'];

/** What doesn't hold, a word each; empty: everything does. `publicKey`: the 32 bytes in base64, as /log/key gives them. */
export function receiptFaults(record: Json, receipt: Json, publicKey: string): string[] {
  const { signature, ...signed } = receipt;
  const x = Buffer.from(publicKey, 'base64').toString('base64url');
  const key = createPublicKey({ key: { kty: 'OKP', crv: 'Ed25519', x }, format: 'jwk' });
  const isSigned = verify(null, Buffer.from(canonicalize(signed) ?? ''), key, Buffer.from(signature, 'base64'));
  const { id, kind, recordedAt, edition, ruleset } = record;
  const { subjects, digests } = receipt;
  const head = canonicalize({ v: 1, id, kind, subjects, recordedAt, edition, ruleset, digests });
  const differing = sections.filter((section) => {
    const text = canonicalize(record[section]) ?? '';
    const salted = createHash('sha256').update(Buffer.from(receipt.salts[section], 'hex')).update(text);
    return salted.digest('hex') !== digests[section];
  });
  // 16 bytes each, and of no section that of another: else what one shows would tell of what another withholds.
  const salts = new Set<string>(sections.map((section) => receipt.salts[section]));
  const isSalted = salts.size === sections.length && [...salts].every((salt) => /^[0-9a-f]{32}$/.test(salt));
  return [
    ...(isSigned ? [] : ['signature']),
    ...(isSalted ? [] : ['salts']),
    ...(sha256(head ?? '') === receipt.entry ? [] : ['entry']),
    ...(receipt.recordedAt === recordedAt ? [] : ['recordedAt']),
    ...differing,
  ];
}

function sha256(text: string): string {
  return createHash('sha256').update(text).digest('hex');
}
