/** A receipt beside the record as it is read back. */
import { describe, expect, it } from 'vitest';
import { type Section, sections } from '../../../src/core/log/leaf.ts';
import type { Receipt } from '../../../src/core/log/receipt.ts';
import { receiptBody } from '../../../src/core/log/receipt.ts';
import { notShown, receiptFault, recordFaults, shownRecordSchema } from '../../../src/core/log/receipt-faults.ts';
import { contents, digests, entryOfLeaf, leafNumber, saltOf, testKey } from './small-log.ts';

const key = testKey(1);
const leaf = leafNumber(1, null);
const salts = Object.fromEntries(sections.map((one) => [one, saltOf(one)])) as Record<Section, string>;
const { id, kind, recordedAt, edition, ruleset } = leaf;
const entry = entryOfLeaf(leaf);
const fields = { key: `${key.name}+${key.keyId}`, entry, subjects: leaf.subjects, recordedAt, digests, salts };
const signed = (more: object = {}): Receipt => {
  const body = { ...fields, ...more };
  return { ...body, signature: Buffer.from(key.sign(Buffer.from(receiptBody(body)))).toString('base64') };
};
const receipt = signed();
const record = { id, kind, recordedAt, edition, ruleset, entry, ...contents, status: 'held', units: [] };
const shown = (change: object = {}) => shownRecordSchema.parse({ ...record, ...change });

describe('a receipt', () => {
  it('is of the key that it names', () => {
    expect(receiptFault(receipt, [testKey(2), key])).toBeNull();
    expect(receiptFault(receipt, [testKey(2)])).toBe('receipt-of-no-known-key');
    expect(receiptFault(receipt, [])).toBe('receipt-of-no-known-key');
    expect(receiptFault({ ...receipt, entry: 'e'.repeat(64) }, [key])).toBe('receipt-signature');
  });
});

describe('a record beside its receipt', () => {
  it('is what was taken in, whatever is shown of it as it is now', () => {
    expect([recordFaults(shown(), receipt), notShown(shown(), receipt)]).toEqual([[], []]);
  });

  it.each(sections)('is not where %s is another', (section) => {
    expect(recordFaults(shown({ [section]: { changed: true } }), receipt)).toEqual([
      { fault: 'section-changed', pointer: `/${section}` },
    ]);
  });

  it('may lack what is kept apart, and nothing else', () => {
    expect(recordFaults(shown({ private: null }), receipt)).toEqual([]);
    expect(notShown(shown({ private: null }), receipt)).toEqual(['private']);
    expect(recordFaults(shown({ statement: null }), receipt)).toHaveLength(1);
    const { private: _, ...without } = record;
    expect(shownRecordSchema.safeParse(without).success).toBe(false);
  });

  it.each([
    ['id', { id: leafNumber(2, null).id }, ''],
    ['kind', { kind: 'test' }, ''],
    ['edition', { edition: null }, ''],
    ['ruleset', { ruleset: '2' }, ''],
    ['entry', { entry: 'e'.repeat(64) }, '/entry'],
  ])('is another with another %s', (_, change, pointer) => {
    expect(recordFaults(shown(change), receipt)).toEqual([{ fault: 'entry-of-another-record', pointer }]);
  });

  it('is of the time that the receipt says', () => {
    const later = '2026-03-14T09:25:00.000009Z';
    expect(recordFaults(shown(), signed({ recordedAt: later }))).toEqual([
      { fault: 'other-time', pointer: '/recordedAt' },
    ]);
    expect(recordFaults(shown({ recordedAt: later }), receipt).map(({ fault }) => fault)).toEqual([
      'entry-of-another-record',
      'other-time',
    ]);
  });
});
