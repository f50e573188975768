/** Editions, parsed once: published content never changes. */
import { type Edition, editionSchema } from '../core/catalogue/edition.ts';
import type { Instant } from '../core/time/instant.ts';
import { Problem } from '../errors.ts';
import { listEditions, readEditionContent } from '../store/sql/read-editions.ts';
import type { Tx } from '../store/transaction.ts';

/** More than any service has in use; the oldest look-up goes first. */
const mostKept = 64;

export type Editions = { readonly get: (tx: Tx, maker: string, edition: string) => Promise<Edition | null> };

export function keepEditions(): Editions {
  const kept = new Map<string, Edition>();
  return {
    get: async (tx, maker, edition) => {
      const key = `${maker}/${edition}`;
      const known = kept.get(key);
      if (known !== undefined) return known;
      const content = await readEditionContent(tx, maker, edition);
      if (content === null) return null;
      const parsed = editionSchema.parse(JSON.parse(content));
      const oldest = kept.keys().next();
      if (kept.size >= mostKept && oldest.done !== true) kept.delete(oldest.value);
      kept.set(key, parsed);
      return parsed;
    },
  };
}

/**
 * The edition asked for, else the newest in effect.
 * @throws Problem no-plan where there is none
 */
export async function editionInEffect(
  editions: Editions,
  tx: Tx,
  maker: string,
  asked: string | null,
  now: Instant,
): Promise<Edition> {
  const inEffect = (await listEditions(tx, [maker])).filter((one) => one.effectiveFrom <= now);
  const name = asked ?? inEffect.at(-1)?.edition;
  const edition = name === undefined ? null : await editions.get(tx, maker, name);
  if (edition === null)
    throw new Problem(
      'no-plan',
      asked === null ? `${maker} has no edition in effect.` : `${maker} has published no edition ${asked}.`,
    );
  return edition;
}
