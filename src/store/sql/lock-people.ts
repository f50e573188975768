import type { Tx } from '../transaction.ts';

/** As `lockStock` locks shops: who gives or withdraws leave (`update`) against who judges by it (`share`). */
export async function lockPeople(
  tx: Tx,
  mode: 'share' | 'update',
  people: readonly { readonly owner: string; readonly id: string }[],
): Promise<void> {
  if (people.length === 0) return;
  await tx.query({
    name: `lock-people-for-${mode}`,
    text: `
      select from people where (owner, id) in (select * from unnest($1::uuid[], $2::uuid[]))
      order by owner, id for ${mode}`,
    values: [people.map((one) => one.owner), people.map((one) => one.id)],
  });
}
