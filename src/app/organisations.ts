/** The directory of organisations: who a token's slugs are. */
import type { Pools } from '../store/pools.ts';
import { withTransaction } from '../store/transaction.ts';
import type { ResolveOrganisations } from './asker.ts';

type Kind = 'distributor' | 'maker';
type Row = { readonly id: string; readonly slug: string; readonly kind: string };

/** Far more than anybody has dealings with; a few bytes each. */
const mostKept = 10_000;

/**
 * Looks slugs up once: an organisation is entered and never changes its id, slug or kind. A slug that the directory
 * doesn't have is looked up each time, since it may be entered any moment.
 */
export function organisationResolver(pools: Pools): ResolveOrganisations {
  const known = new Map<string, string>();
  const keyOf = (slug: string, kind: string) => `${kind} ${slug}`;
  const isKnown = (slug: string | null, kind: Kind) => slug === null || known.has(keyOf(slug, kind));
  const idOf = (slug: string | null, kind: Kind) => (slug === null ? null : (known.get(keyOf(slug, kind)) ?? null));
  return async ({ distributor, maker }) => {
    if (!isKnown(distributor, 'distributor') || !isKnown(maker, 'maker')) {
      const rows = await lookUp(pools, [distributor, maker]);
      if (known.size + rows.length > mostKept) known.clear();
      for (const { id, slug, kind } of rows) known.set(keyOf(slug, kind), id);
    }
    return { distributor: idOf(distributor, 'distributor'), maker: idOf(maker, 'maker') };
  };
}

async function lookUp(pools: Pools, slugs: readonly (string | null)[]): Promise<readonly Row[]> {
  const { rows } = await withTransaction(pools.reading, { role: 'reader', orgs: [], readOnly: true }, (tx) =>
    tx.last(() =>
      tx.query<Row>({
        name: 'find-organisations',
        text: 'select id, slug, kind from organisations where slug = any ($1::text[])',
        values: [slugs.filter((slug) => slug !== null)],
      }),
    ),
  );
  return rows;
}
