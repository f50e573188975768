/** A plain sentence for every way in which something is not proven. */
import type { CertificateFault } from '../../core/log/certificate.ts';
import type { ChainFault } from '../../core/log/chain.ts';
import type { consistencyFault } from '../../core/log/proof.ts';
import type { RecordFault, receiptFault } from '../../core/log/receipt-faults.ts';
import type { RecountFault } from '../../core/log/recount.ts';
import { tileAt, tileWidth } from '../../core/log/tiles.ts';

export type Fault =
  | CertificateFault['fault']
  | ChainFault['fault']
  | RecordFault['fault']
  | NonNullable<ReturnType<typeof receiptFault>>
  | NonNullable<ReturnType<typeof consistencyFault>>;

export const sentences: Readonly<Record<Fault, string>> = {
  'section-changed': 'this section is not what was recorded: with its salt it has another digest',
  'entry-of-another-record':
    'what is stated here is not what was recorded: it does not hash to the entry that is proven',
  'other-time': 'this is not the time that the receipt says',
  'checkpoint-malformed': 'the checkpoint is no signed note of a log (C2SP tlog-checkpoint)',
  'checkpoint-of-no-known-key': 'the checkpoint is signed by none of the keys that are given',
  'checkpoint-signature': 'the signature of the checkpoint is wrong: its text was changed after it was signed',
  'checkpoint-of-another-log':
    'the checkpoint is of another log: it has another name than its key, or than the other checkpoint',
  'not-in-the-log':
    'the proof does not lead to the root that the checkpoint signs: the entry is not at this index of it',
  'other-checkpoint':
    'the checkpoints are of different sizes, and no proof from just the one to the other is given: ask /log/consistency for it, and give it as --consistency FILE',
  'not-the-same-log':
    'the two checkpoints are not of one log that only grew: something was changed or taken away, or somebody was shown another log',
  'place-missing': 'this place is missing: a record was left out',
  'not-of-this-unit': "the record here does not say that it is this unit's, in this place",
  'chain-broken': 'the record here names another entry before it than the one that is given',
  'receipt-of-no-known-key': 'the receipt is signed by none of the keys that are given',
  'receipt-signature': 'the signature of the receipt is wrong: something in it was changed after it was signed',
};

/** At its place; `expected` where that can be said. */
export function sentenceOf(fault: Fault, place: string, expected: string | null = null): string {
  return `${place}: ${sentences[fault]}${expected === null ? '' : `; expected ${expected}`}.`;
}

const ofLogs: Readonly<Record<RecountFault['fault'], (one: RecountFault) => string>> = {
  'file-missing': ({ path, expected }) => `${path} is missing; expected ${expected}`,
  'file-too-large': ({ path, expected }) => `${path} is too large; expected ${expected} bytes`,
  'bundle-not-whole': ({ path, expected, found }) =>
    `${path} ends in the middle of an entry, after ${found}; expected ${expected}`,
  'entries-too-many-or-few': ({ path, expected, found }) => `${path} has ${found} entries; expected ${expected}`,
  'entry-of-wrong-length': ({ path, at, expected, found }) =>
    `entry ${at} of ${path}${leafAt(path, at)} has ${found} bytes; expected ${expected}`,
  'tile-of-wrong-length': ({ path, expected, found }) => `${path} has ${found} bytes; expected ${expected}`,
  'hash-differs': ({ path, at, expected, found }) =>
    `hash ${at} of ${path}${leafAt(path, at)} is ${found}; expected from the entries ${expected}`,
  'root-differs': ({ at, expected, found }) =>
    `checkpoint: the root of the ${at} entries is ${found}; expected, as it is signed, ${expected}`,
  'older-root-differs': ({ at, expected, found }) =>
    `checkpoint: the log does not begin with the older one: the root of its first ${at} entries is ${found}; expected, as it was signed then, ${expected}`,
  'log-shorter': ({ expected, found }) =>
    `checkpoint: the log has ${found} leaves, fewer than before: leaves were taken away; expected at least ${expected}`,
  'checkpoint-of-another-log': ({ expected, found }) => `checkpoint: the log is called ${found}; expected ${expected}`,
};

export function sentenceOfLog(fault: RecountFault): string {
  return `${ofLogs[fault.fault](fault)}.`;
}

/** At level 0 an entry or hash is that of a leaf. */
function leafAt(path: string, at: number | null): string {
  const tile = tileAt(path);
  return tile === null || tile.level > 0 || at === null ? '' : ` (leaf ${tile.index * tileWidth + at})`;
}
