/** Proofs out of the published log: what is given out can be compared with it. */
import type { Consistency, Inclusion } from '../../core/log/proof.ts';
import { consistencyRanges, hashOfRange, inclusionSteps, nodesOf, type Range } from '../../core/log/tree.ts';
import { Problem } from '../../errors.ts';
import { indexesOf } from '../../store/sql/log.ts';
import { withTransaction } from '../../store/transaction.ts';
import type { App } from '../context.ts';
import { type Published, readHashes, readPublished } from './published.ts';

/** @throws Problem not-found while nothing is published, as at the first start */
export async function requirePublished(app: App): Promise<Published> {
  const published = await readPublished(app.log.files, app.log.keys);
  if (published === null) throw new Problem('not-found', 'Nothing of the log is published yet. Ask again in a second.');
  return published;
}

/** Of entries in the published log, in the order given; null for one that is not in it, or not yet. */
export async function proveInclusion(app: App, entries: readonly string[]): Promise<(Inclusion | null)[]> {
  const { size, note } = await requirePublished(app);
  const places = await placesOf(app, entries);
  const ways = entries.map((entry) => {
    const index = places.get(entry);
    return index === undefined || index >= size ? null : { entry, index, steps: inclusionSteps(index, size) };
  });
  // Proofs of one unit share tiles: each file is read once.
  const hashOf = await readHashes(
    app.log.files,
    size,
    ways.flatMap((way) => way?.steps.flatMap(nodesOf) ?? []),
  );
  return ways.map((way) => {
    if (way === null) return null;
    const { entry, index, steps } = way;
    return { entry, index, hashes: steps.map((step) => hexOf(hashOfRange(step, hashOf))), checkpoint: note };
  });
}

/** @throws Problem not-found for an entry that the published log does not show, or not yet */
export async function proveOne(app: App, entry: string): Promise<Inclusion> {
  const [proof] = await proveInclusion(app, [entry]);
  if (proof === null || proof === undefined)
    throw new Problem(
      'not-found',
      'The published log does not show this entry. One of a fact that was just recorded does so a second later.',
    );
  return proof;
}

/** @throws Problem invalid-input for sizes between which nothing can be proven */
export async function proveConsistency(app: App, from: number, to: number | null): Promise<Consistency> {
  const { size } = await requirePublished(app);
  const until = to ?? size;
  if (until > size) throw notOf('to', `the published log has ${size} leaves`);
  if (from < 1 || from > until)
    throw notOf('from', `give a size from 1 to ${until}: of an empty log nothing is proven`);
  return { from, to: until, hashes: await hashesOf(app, size, consistencyRanges(from, until)) };
}

function notOf(parameter: string, detail: string): Problem {
  return new Problem('invalid-input', 'Nothing can be proven between these sizes.', {
    errors: [{ parameter, detail }],
  });
}

async function hashesOf(app: App, size: number, ranges: readonly Range[]): Promise<string[]> {
  const hashOf = await readHashes(app.log.files, size, ranges.flatMap(nodesOf));
  return ranges.map((range) => hexOf(hashOfRange(range, hashOf)));
}

function hexOf(hash: Uint8Array): string {
  return Buffer.from(hash).toString('hex');
}

async function placesOf(app: App, entries: readonly string[]): Promise<Map<string, number>> {
  const context = { role: 'reader' as const, orgs: [], readOnly: true };
  return await withTransaction(app.pools.reading, context, async (tx) => {
    return await indexesOf(tx, entries);
  });
}
