import { sections } from '../../core/log/leaf.ts';
import type { VerifierKey } from '../../core/log/note.ts';
import { type Inclusion, inclusionFault, inclusionSchema } from '../../core/log/proof.ts';
import { type Receipt, receiptSchema } from '../../core/log/receipt.ts';
import {
  notShown as hiddenIn,
  receiptFault,
  recordFaults,
  type ShownRecord,
  shownRecordSchema,
} from '../../core/log/receipt-faults.ts';
import { type Kept, keptFaults, notShownWithout, upTo } from './kept.ts';
import type { Outcome } from './outcome.ts';
import { readJson, shaped } from './read-file.ts';
import { sentenceOf } from './sentences.ts';

export type Beside = { readonly record: string | undefined; readonly inclusion: string | undefined };

/** @throws Unreadable */
export async function verifyReceipt(
  path: string,
  keys: readonly VerifierKey[],
  beside: Beside,
  kept: Kept | null,
): Promise<Outcome> {
  const receipt = shaped(receiptSchema, receiptIn(await readJson(path)), path, 'a receipt');
  const record =
    beside.record === undefined
      ? null
      : shaped(shownRecordSchema, await readJson(beside.record), beside.record, 'a record as it is read back');
  const inclusion =
    beside.inclusion === undefined
      ? null
      : shaped(inclusionSchema, await readJson(beside.inclusion), beside.inclusion, 'a proof of inclusion');
  const fault = receiptFault(receipt, keys);
  return {
    proven: provenOf(receipt, record, inclusion, keys),
    faults: [
      ...(fault === null ? [] : [sentenceOf(fault, 'receipt')]),
      ...(record === null ? [] : faultsOfRecord(record, receipt)),
      ...(inclusion === null ? [] : faultsOfInclusion(inclusion, receipt, keys, kept)),
    ],
    notShown: [
      ...(record === null ? ['what the record says: give it as --record FILE, as GET /v1/records/{id} gives it'] : []),
      ...(record === null ? [] : notShownOf(record, receipt)),
      ...(inclusion === null
        ? [`that it is in the log: give what /log/inclusion/${receipt.entry} answers as --inclusion FILE`]
        : notShownWithout(kept)),
    ],
  };
}

/** The receipt itself, or the answer that it came with. */
function receiptIn(value: unknown): unknown {
  return typeof value === 'object' && value !== null && 'receipt' in value ? value.receipt : value;
}

function provenOf(
  { key, recordedAt, subjects, entry }: Receipt,
  record: ShownRecord | null,
  inclusion: Inclusion | null,
  keys: readonly VerifierKey[],
): string {
  const places = subjects.map(({ unit, seq }) => `, as place ${seq} of unit ${unit}`).join('');
  const what = record === null ? `a record with the entry ${entry}` : `record ${record.id} (${record.kind})`;
  const isIn = inclusion !== null && inclusionFault(inclusion, keys) === null;
  const where = isIn ? `; it is leaf ${inclusion.index} in ${upTo(inclusion.checkpoint, keys)}` : '';
  return `${what} was taken in at ${recordedAt}${places}, as ${key} signed${where}`;
}

function faultsOfRecord(record: ShownRecord, receipt: Receipt): string[] {
  return recordFaults(record, receipt).map(({ fault, pointer }) => {
    const section = sections.find((one) => pointer === `/${one}`);
    const place = `record${pointer === '' ? ', its id, kind, recordedAt, edition and ruleset' : ` ${pointer}`}`;
    if (section !== undefined) return sentenceOf(fault, place, `the digest ${receipt.digests[section]}`);
    return sentenceOf(fault, place, fault === 'other-time' ? receipt.recordedAt : `the entry ${receipt.entry}`);
  });
}

function faultsOfInclusion(
  inclusion: Inclusion,
  { entry }: Receipt,
  keys: readonly VerifierKey[],
  kept: Kept | null,
): string[] {
  if (inclusion.entry !== entry)
    return [sentenceOf('entry-of-another-record', 'inclusion /entry', `the entry ${entry}`)];
  const fault = inclusionFault(inclusion, keys);
  return fault === null
    ? keptFaults(inclusion.checkpoint, kept, keys)
    : [sentenceOf(fault, 'inclusion', `leaf ${inclusion.index}`)];
}

function notShownOf(record: ShownRecord, receipt: Receipt): string[] {
  const hidden = hiddenIn(record, receipt);
  return [
    ...(hidden.length === 0 ? [] : [`what is withheld or erased: ${hidden.join(', ')}`]),
    'what is shown of the record as it is now, such as its status, units and people: no receipt covers that',
  ];
}
