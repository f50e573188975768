/**
 * Proofs as they are given out, in JSON, and what they show without the service: hashes and entries are lower-case
 * hexadecimal, a checkpoint is the signed note whole.
 */
import { z } from 'zod';
import { type Checkpoint, openCheckpoint } from './checkpoint.ts';
import { hashOfLeaf } from './hash.ts';
import type { VerifierKey } from './note.ts';
import { isConsistent, isSame, rootByInclusion } from './tree.ts';

const hash = z.string().regex(/^[0-9a-f]{64}$/);
const hashes = z.array(hash).max(64);
const count = z.int().min(0);

export const inclusionSchema = z.strictObject({
  entry: hash.describe('What the log shows of the fact'),
  index: count.describe('Its place in the log, from 0'),
  hashes: hashes.describe('PATH of RFC 6962 section 2.1.1, from the leaf up'),
  checkpoint: z.string().max(10_000).describe('Of the log that it is in (C2SP tlog-checkpoint)'),
});
export type Inclusion = z.infer<typeof inclusionSchema>;

export const consistencySchema = z.strictObject({
  from: count,
  to: count,
  hashes: hashes.describe('PROOF of RFC 6962 section 2.1.2'),
});
export type Consistency = z.infer<typeof consistencySchema>;

/** One clear word for why something is not proven. */
export type ProofFault =
  | 'checkpoint-malformed'
  | 'checkpoint-of-no-known-key'
  | 'checkpoint-signature'
  | 'checkpoint-of-another-log'
  | 'not-in-the-log'
  | 'other-checkpoint';

/** In the words of proofs, why a note is no checkpoint to go by. */
export const checkpointFaults = {
  malformed: 'checkpoint-malformed',
  'not-a-checkpoint': 'checkpoint-malformed',
  'no-known-key': 'checkpoint-of-no-known-key',
  'bad-signature': 'checkpoint-signature',
  'another-log': 'checkpoint-of-another-log',
} as const;

/** Whether the entry is at its index in the tree of the checkpoint, which one of these keys signed. */
export function inclusionFault(inclusion: Inclusion, keys: readonly VerifierKey[]): ProofFault | null {
  const checkpoint = openCheckpoint(inclusion.checkpoint, keys);
  if ('fault' in checkpoint) return checkpointFaults[checkpoint.fault];
  return isIncluded(inclusion, checkpoint) ? null : 'not-in-the-log';
}

export function isIncluded(
  { entry, index, hashes: proof }: Omit<Inclusion, 'checkpoint'>,
  { size, root }: Checkpoint,
): boolean {
  const leaf = hashOfLeaf(Buffer.from(entry, 'hex'));
  const reached = rootByInclusion({ index, size }, leaf, proof.map(bytesOf));
  return reached !== null && isSame(reached, root);
}

/**
 * Whether two checkpoints are of one log that only grew; the proof goes from the smaller to the larger. Of an empty log
 * there is nothing to prove.
 */
export function consistencyFault(
  [one, other]: readonly [string, string],
  proof: readonly string[],
  keys: readonly VerifierKey[],
): ProofFault | 'not-the-same-log' | null {
  const [a, b] = [openCheckpoint(one, keys), openCheckpoint(other, keys)];
  if ('fault' in a) return checkpointFaults[a.fault];
  if ('fault' in b) return checkpointFaults[b.fault];
  if (a.origin !== b.origin) return 'checkpoint-of-another-log';
  const [from, to] = a.size <= b.size ? [a, b] : [b, a];
  if (from.size === 0 && to.size > 0) return null;
  const isOne =
    from.size === to.size
      ? isSame(from.root, to.root)
      : isConsistent({ from: from.size, fromRoot: from.root }, to, proof.map(bytesOf));
  return isOne ? null : 'not-the-same-log';
}

/**
 * The same, of the proof as the service gives it out, which says between which sizes it goes. Null: there is none, as
 * between two checkpoints of one size none is needed.
 */
export function growthFault(
  [one, other]: readonly [string, string],
  proof: Consistency | null,
  keys: readonly VerifierKey[],
): ReturnType<typeof consistencyFault> {
  const fault = consistencyFault([one, other], proof?.hashes ?? [], keys);
  if (fault !== 'not-the-same-log') return fault;
  const sizes = [one, other].map((note) => (openCheckpoint(note, keys) as Checkpoint).size);
  const [from, to] = [Math.min(...sizes), Math.max(...sizes)];
  return from === to || (proof?.from === from && proof.to === to) ? fault : 'other-checkpoint';
}

function bytesOf(text: string): Buffer {
  return Buffer.from(text, 'hex');
}
