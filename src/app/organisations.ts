/** The directory of organisations: who a token's slugs are. */
import type { Pools } from '../store/pools.ts';
import { withTransaction } from '../store/transaction.ts';
import type { ResolveOrganisations } from './asker.ts';

/** Looks every token's slugs up; the directory is small and hot in the database's memory. */
export function organisationResolver(pools: Pools): ResolveOrganisations {
  return async ({ distributor, maker }) => {
    const { rows } = await withTransaction(pools.reading, { role: 'reader', orgs: [], readOnly: true }, (tx) =>
      tx.last(() =>
        tx.query<{ id: string; slug: string; kind: string }>({
          name: 'find-organisations',
          text: 'select id, slug, kind from organisations where slug = any ($1::text[])',
          values: [[distributor, maker].filter((slug) => slug !== null)],
        }),
      ),
    );
    const idOf = (slug: string | null, kind: string) =>
      rows.find((row) => row.slug === slug && row.kind === kind)?.id ?? null;
    return { distributor: idOf(distributor, 'distributor'), maker: idOf(maker, 'maker') };
  };
}
