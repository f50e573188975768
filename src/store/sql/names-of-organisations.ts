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

/**
 * What the organisations are called whose facts these are. Beside each fact the organisations were gone through once more:
 * 12,000 rows for 59 facts.
 */
export async function namesOfOwners(tx: Tx, facts: readonly string[]): Promise<Map<string, string>> {
  if (facts.length === 0) return new Map();
  const { rows } = await tx.query<{ id: string; slug: string }>({
    name: 'names-of-owners',
    text: `
      select id, slug from organisations
      where id = any (array(select distinct owner from facts where facts.id = any ($1::uuid[])))`,
    values: [facts],
  });
  return new Map(rows.map((row) => [row.id, row.slug]));
}
