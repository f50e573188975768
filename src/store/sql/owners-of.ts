import type { Tx } from '../transaction.ts';

export type OwnedFact = { readonly id: string; readonly owner: string };

/** Whose these facts are, as far as this transaction may see them. */
export async function ownersOf(tx: Tx, facts: readonly string[]): Promise<OwnedFact[]> {
  const { rows } = await tx.query<OwnedFact>({
    name: 'owners-of',
    text: 'select id, owner from facts where id = any ($1::uuid[])',
    values: [facts],
  });
  return rows;
}
