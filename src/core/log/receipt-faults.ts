/** What a receipt proves, with the record as `GET /v1/records/{id}` gives it: see receipt.ts for what is signed. */
import { z } from 'zod';
import { type CertificateFault, isOf } from './certificate.ts';
import { entryOf, leafHead, type Section, sections } from './leaf.ts';
import type { VerifierKey } from './note.ts';
import { type Receipt, verifyReceipt } from './receipt.ts';
import { publicKeyOf } from './signature.ts';

/** What a receipt covers of a record. What else is shown of one is as it is now, and covered by nothing. */
export const shownRecordSchema = z.looseObject({
  id: z.uuid(),
  kind: z.string().max(100),
  recordedAt: z.string().max(40),
  edition: z.string().max(200).nullable(),
  ruleset: z.string().max(200).nullable(),
  entry: z.string().regex(/^[0-9a-f]{64}$/),
  origin: z.unknown(),
  statement: z.unknown(),
  judgement: z.unknown(),
  private: z.unknown(),
});
export type ShownRecord = z.infer<typeof shownRecordSchema>;

/** `receipt.key` names the key as `name+key ID`. */
export function receiptFault(
  receipt: Receipt,
  keys: readonly VerifierKey[],
): 'receipt-of-no-known-key' | 'receipt-signature' | null {
  const key = keys.find(({ name, keyId }) => `${name}+${keyId}` === receipt.key);
  if (key === undefined) return 'receipt-of-no-known-key';
  return verifyReceipt(receipt, publicKeyOf(key.publicKey)) ? null : 'receipt-signature';
}

export type RecordFault = {
  readonly fault: Extract<CertificateFault['fault'], 'section-changed' | 'entry-of-another-record'> | 'other-time';
  /** JSON pointer (RFC 6901) into the record. */
  readonly pointer: string;
};

/** All that is not as it was when the receipt was given; empty: the record is the one that was taken in. */
export function recordFaults(record: ShownRecord, receipt: Receipt): RecordFault[] {
  const { id, kind, recordedAt, edition, ruleset } = record;
  const { subjects, digests, entry } = receipt;
  const hidden = notShown(record, receipt);
  const changed = sections.filter((section) => !hidden.includes(section) && !isKept(record, receipt, section));
  const isItsHead = entryOf(leafHead({ id, kind, subjects, recordedAt, edition, ruleset, digests })) === entry;
  return [
    ...changed.map((section) => ({ fault: 'section-changed' as const, pointer: `/${section}` })),
    ...(isItsHead ? [] : [{ fault: 'entry-of-another-record' as const, pointer: '' }]),
    ...(record.entry === entry ? [] : [{ fault: 'entry-of-another-record' as const, pointer: '/entry' }]),
    ...(recordedAt === receipt.recordedAt ? [] : [{ fault: 'other-time' as const, pointer: '/recordedAt' }]),
  ];
}

/** What is kept apart reads as null to who may not see it, and to everybody once it is erased. */
export function notShown(record: ShownRecord, receipt: Receipt): Section[] {
  return record.private === null && !isKept(record, receipt, 'private') ? ['private'] : [];
}

function isKept(record: ShownRecord, { salts, digests }: Receipt, section: Section): boolean {
  return isOf({ salt: salts[section], content: record[section] }, digests[section]);
}
