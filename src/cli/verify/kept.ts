/** A checkpoint that somebody kept, and the proof that leads from or to it. */
import { type Checkpoint, openCheckpoint } from '../../core/log/checkpoint.ts';
import type { VerifierKey } from '../../core/log/note.ts';
import { type Consistency, consistencySchema, growthFault } from '../../core/log/proof.ts';
import { mostText, readJson, readText, shaped } from './read-file.ts';
import { sentenceOf } from './sentences.ts';

export type Kept = { readonly path: string; readonly note: string; readonly consistency: Consistency | null };

/** @throws Unreadable */
export async function readKept(checkpoint: string | undefined, consistency: string | undefined): Promise<Kept | null> {
  if (checkpoint === undefined) return null;
  const proof = consistency === undefined ? null : await readJson(consistency);
  return {
    path: checkpoint,
    note: await readText(checkpoint, mostText),
    consistency:
      consistency === undefined ? null : shaped(consistencySchema, proof, consistency, 'a proof of consistency'),
  };
}

/** What keeps a proof up to `note` from counting for who has kept a checkpoint. */
export function keptFaults(note: string, kept: Kept | null, keys: readonly VerifierKey[]): string[] {
  const fault = kept === null ? null : growthFault([note, kept.note], kept.consistency, keys);
  return fault === null ? [] : [sentenceOf(fault, `--checkpoint ${kept?.path}`)];
}

/** Of a note that was found to be good. */
export function upTo(note: string, keys: readonly VerifierKey[]): string {
  const { origin, size } = openCheckpoint(note, keys) as Checkpoint;
  return `the log ${origin} of ${size} ${size === 1 ? 'leaf' : 'leaves'}`;
}

export function notShownWithout(kept: Kept | null): string[] {
  return kept !== null
    ? []
    : ['that others are shown the same log: give a checkpoint that you have from elsewhere as --checkpoint FILE'];
}
