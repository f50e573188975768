/**
 * All that was ever recorded of a unit, up to a checkpoint: every place from the first, each naming the entry before it,
 * each in the log. A record left out would leave a gap, or a name that fits nowhere; what was recorded after the last
 * place that is given is not shown to be missing.
 */
import { z } from 'zod';
import { leafSchema } from './certificate.ts';
import { openCheckpoint } from './checkpoint.ts';
import { entryOf, leafHead } from './leaf.ts';
import type { VerifierKey } from './note.ts';
import { checkpointFaults, inclusionSchema, isIncluded, type ProofFault } from './proof.ts';

export const chainSchema = z.strictObject({
  unit: z.uuid(),
  checkpoint: inclusionSchema.shape.checkpoint,
  entries: z.array(
    z.strictObject({
      seq: z.int().min(1),
      leaf: leafSchema.nullable().describe('What is hashed to the entry; null: withheld, as it is of others'),
      ...inclusionSchema.omit({ checkpoint: true }).shape,
    }),
  ),
});
export type Chain = z.infer<typeof chainSchema>;

export type ChainFault = {
  readonly fault: ProofFault | 'place-missing' | 'entry-of-another-record' | 'not-of-this-unit' | 'chain-broken';
  /** The place in the unit's chain at which it breaks. */
  readonly seq: number;
};

/** The first place at which the chain breaks; null: nowhere. Every unit has a first place, so an empty chain lacks it. */
export function chainFault(
  { unit, checkpoint: note, entries }: Chain,
  keys: readonly VerifierKey[],
): ChainFault | null {
  if (entries.length === 0) return { fault: 'place-missing', seq: 1 };
  const checkpoint = openCheckpoint(note, keys);
  if ('fault' in checkpoint) return { fault: checkpointFaults[checkpoint.fault], seq: 1 };
  let before: string | null = null;
  for (const [at, { seq, leaf, ...proof }] of entries.entries()) {
    if (seq !== at + 1) return { fault: 'place-missing', seq: at + 1 };
    if (!isIncluded(proof, checkpoint)) return { fault: 'not-in-the-log', seq };
    if (leaf !== null) {
      if (entryOf(leafHead(leaf)) !== proof.entry) return { fault: 'entry-of-another-record', seq };
      const subject = leaf.subjects.find((one) => one.unit === unit && one.seq === seq);
      if (subject === undefined) return { fault: 'not-of-this-unit', seq };
      if (subject.prev !== before) return { fault: 'chain-broken', seq };
    }
    before = proof.entry;
  }
  return null;
}

/** Places whose entry nothing but the service ties to this unit: withheld, and not named by the one after. */
export function untied({ entries }: Chain): number[] {
  return entries.flatMap(({ seq, leaf }, at) =>
    leaf === null && (entries[at + 1]?.leaf ?? null) === null ? [seq] : [],
  );
}
