/**
 * The signed answer to a recording. It proves later, with the record and without the service, that this record was
 * taken in with this content at this time and this place in each unit's events, even if it never reached the log.
 *
 * Signed, byte for byte: the UTF-8 of the canonical JSON (RFC 8785) of
 *
 *     { "key":        the id of the signing key
 *     , "entry":      the log's entry, 64 hexadecimal digits (see leaf.ts)
 *     , "subjects":   [{"unit", "seq", "prev"}], in the order of unit
 *     , "recordedAt": UTC text with six decimals
 *     , "digests":    {"origin", "statement", "judgement", "private"}, 64 hexadecimal digits each
 *     , "salts":      {"origin", "statement", "judgement", "private"}, 32 hexadecimal digits each }
 *
 * and nothing before, between or after. It begins with `{`, so that no other text signed with the same key, such as a
 * checkpoint of the log, can be taken for a receipt. The signature is pure Ed25519 (RFC 8032), 64 bytes in base64.
 */
import type { KeyObject } from 'node:crypto';
import { z } from 'zod';
import { canonical } from './canonical.ts';
import { bySection, subjectsInOrder } from './leaf.ts';
import { isSignedBy } from './signature.ts';

const hexDigits = (count: number) => z.string().regex(new RegExp(`^[0-9a-f]{${count}}$`));
const perSection = (text: z.ZodString) =>
  z.strictObject({ origin: text, statement: text, judgement: text, private: text });

/** A receipt as it is sent and kept. A member beside these is refused: it would look signed and not be. */
export const receiptSchema = z.strictObject({
  key: z.string().min(1).max(200),
  entry: hexDigits(64),
  subjects: z.array(z.strictObject({ unit: z.uuid(), seq: z.int().min(1), prev: hexDigits(64).nullable() })),
  recordedAt: z.string().regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z$/),
  digests: perSection(hexDigits(64)),
  salts: perSection(hexDigits(32)),
  signature: z.base64().length(88),
});

export type Receipt = z.infer<typeof receiptSchema>;

/** The text to sign. `subjects` may come in any order; members beside the six are left out. */
export function receiptBody(receipt: Readonly<Omit<Receipt, 'signature'>>): string {
  const { key, entry, subjects, recordedAt, digests, salts } = receipt;
  return canonical({
    key,
    entry,
    subjects: subjectsInOrder(subjects),
    recordedAt,
    digests: bySection(digests),
    salts: bySection(salts),
  });
}

/**
 * Whether the receipt was signed by this key, which is the one that `receipt.key` names: finding it is the caller's
 * part. It says nothing of the record: compare the record's sections with the digests, and its head with the entry.
 */
export function verifyReceipt(receipt: Receipt, publicKey: KeyObject): boolean {
  return isSignedBy(publicKey, receiptBody(receipt), receipt.signature);
}
