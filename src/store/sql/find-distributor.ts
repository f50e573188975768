import type { Tx } from '../transaction.ts';

/** The id of a distributor by its slug; null where the directory has none. */
export async function findDistributor(tx: Tx, slug: string): Promise<string | null> {
  const { rows } = await tx.query<{ id: string }>({
    name: 'find-distributor',
    text: `select id from organisations where slug = $1 and kind = 'distributor'`,
    values: [slug],
  });
  return rows[0]?.id ?? null;
}
