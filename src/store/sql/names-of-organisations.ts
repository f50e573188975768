import type { Tx } from '../transaction.ts';

/** What these organisations are called: slugs by id. */
export async function namesOfOrganisations(tx: Tx, ids: readonly string[]): Promise<Map<string, string>> {
  if (ids.length === 0) return new Map();
  const { rows } = await tx.query<{ id: string; slug: string }>({
    name: 'names-of-organisations',
    text: 'select id, slug from organisations where id = any ($1::uuid[])',
    values: [ids],
  });
  return new Map(rows.map((row) => [row.id, row.slug]));
}
