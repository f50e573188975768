/** What proofs show of a small log, and the one word for each way in which they don't. */
import { describe, expect, it } from 'vitest';
import { signNote } from '../../../src/core/log/note.ts';
import { consistencyFault, growthFault, type Inclusion, inclusionFault } from '../../../src/core/log/proof.ts';
import { smallLog, strangers, testKey } from './small-log.ts';

const key = testKey(1);
const stranger = testKey(2);
const other = testKey(3, 'asfitted.example/other');
const log = smallLog(strangers(7), key);
const fork = smallLog([...strangers(3), ...strangers(7).slice(4), ...strangers(1)], key);
const elsewhere = smallLog(strangers(7), other);
const keys = [key, other];

describe('that an entry is in the log', () => {
  it.each([0, 3, 6])('at %d is shown', (index) => {
    expect(inclusionFault(log.inclusion(index), keys)).toBeNull();
  });

  it.each<[string, (proof: Inclusion) => Inclusion, string]>([
    ['another entry', (one) => ({ ...one, entry: 'e'.repeat(64) }), 'not-in-the-log'],
    ['another place', (one) => ({ ...one, index: 4 }), 'not-in-the-log'],
    ['a place beyond the log', (one) => ({ ...one, index: 7 }), 'not-in-the-log'],
    ['a hash too few', (one) => ({ ...one, hashes: one.hashes.slice(1) }), 'not-in-the-log'],
    ['a checkpoint of another size', (one) => ({ ...one, checkpoint: log.checkpoint(6) }), 'not-in-the-log'],
    ['a note cut off', (one) => ({ ...one, checkpoint: one.checkpoint.slice(0, -1) }), 'checkpoint-malformed'],
    ['a note of something else', (one) => ({ ...one, checkpoint: signNote('hello\n', [key]) }), 'checkpoint-malformed'],
    [
      'a checkpoint of a stranger',
      (one) => ({ ...one, checkpoint: smallLog(strangers(7), stranger).checkpoint() }),
      'checkpoint-of-no-known-key',
    ],
    [
      'a size that was edited',
      (one) => ({ ...one, checkpoint: one.checkpoint.replace('\n7\n', '\n8\n') }),
      'checkpoint-signature',
    ],
    [
      "a name that is not the key's",
      (one) => ({ ...one, checkpoint: log.checkpoint(7, other.name) }),
      'checkpoint-of-another-log',
    ],
  ])('is not by %s', (_, change, fault) => {
    expect(inclusionFault(change(log.inclusion(3)), keys)).toBe(fault);
  });
});

describe('that a log only grew', () => {
  const hashes = log.consistency(3).hashes;

  it('is shown between two checkpoints, in either order', () => {
    expect(consistencyFault([log.checkpoint(3), log.checkpoint()], hashes, keys)).toBeNull();
    expect(consistencyFault([log.checkpoint(), log.checkpoint(3)], hashes, keys)).toBeNull();
    expect(growthFault([log.checkpoint(3), log.checkpoint()], log.consistency(3), keys)).toBeNull();
    expect(growthFault([log.checkpoint(), log.checkpoint(3)], log.consistency(3), keys)).toBeNull();
  });

  it('needs no proof between two of one size, nor from nothing', () => {
    expect(growthFault([log.checkpoint(), log.checkpoint()], null, keys)).toBeNull();
    expect(growthFault([log.checkpoint(0), log.checkpoint()], null, keys)).toBeNull();
    expect(growthFault([log.checkpoint(0), log.checkpoint(0)], null, keys)).toBeNull();
  });

  it.each([
    ['another tree of one size', [log.checkpoint(), fork.checkpoint()], null, 'not-the-same-log'],
    ['a fork', [fork.checkpoint(5), log.checkpoint()], log.consistency(5), 'not-the-same-log'],
    [
      'hashes in another order',
      [log.checkpoint(3), log.checkpoint()],
      { from: 3, to: 7, hashes: hashes.toReversed() },
      'not-the-same-log',
    ],
    ['no proof', [log.checkpoint(3), log.checkpoint()], null, 'other-checkpoint'],
    ['a proof from elsewhere', [log.checkpoint(3), log.checkpoint()], log.consistency(4), 'other-checkpoint'],
    ['a proof to elsewhere', [log.checkpoint(3), log.checkpoint()], log.consistency(3, 6), 'other-checkpoint'],
    ['a log of another name', [elsewhere.checkpoint(), log.checkpoint()], null, 'checkpoint-of-another-log'],
    ['a first that is none', ['', log.checkpoint()], null, 'checkpoint-malformed'],
    ['a second that is none', [log.checkpoint(), ''], null, 'checkpoint-malformed'],
  ] as const)('is not shown by %s', (_, [one, second], proof, fault) => {
    expect(growthFault([one, second], proof, keys)).toBe(fault);
  });
});
