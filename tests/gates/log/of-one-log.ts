/** Whether checkpoints that were seen published are all of the log that is there now. */
import { openCheckpoint } from '../../../src/core/log/checkpoint.ts';
import { Frontier } from '../../../src/core/log/frontier.ts';
import { hashOfLeaf } from '../../../src/core/log/hash.ts';
import type { Signer } from '../../../src/store/local-keys.ts';

/** `wrong`: sizes at which the log has another root, or none. `entries` are those of the log, in order. */
export function ofOneLog(
  notes: Iterable<string>,
  entries: Iterable<string>,
  key: Signer,
): { readonly sizes: ReadonlySet<number>; readonly wrong: readonly number[] } {
  const roots = new Map<number, string>();
  for (const note of notes) {
    const checkpoint = openCheckpoint(note, [key]);
    if ('fault' in checkpoint) throw new Error(`a checkpoint was published that is no good: ${checkpoint.fault}`);
    roots.set(checkpoint.size, Buffer.from(checkpoint.root).toString('hex'));
  }
  const frontier = new Frontier();
  const right = new Set<number>();
  const look = () => {
    if (roots.get(frontier.size) === Buffer.from(frontier.root()).toString('hex')) right.add(frontier.size);
  };
  if (roots.has(0)) look();
  for (const entry of entries) {
    frontier.add(hashOfLeaf(Buffer.from(entry, 'hex')));
    if (roots.has(frontier.size)) look();
  }
  const sizes = new Set(roots.keys());
  return { sizes, wrong: [...sizes].filter((size) => !right.has(size)) };
}
