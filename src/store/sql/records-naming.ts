import type { Tx } from '../transaction.ts';

/**
 * The records of this owner that name it, in the order of work. With `since`: those that may have work done then or
 * later, and so also all that have a line with a time of its own.
 */
export async function recordsNaming(
  tx: Tx,
  owner: string,
  what: 'instrument' | 'technician' | 'shop',
  key: string,
  since: string | null,
): Promise<string[]> {
  const { rows } = await tx.query<{ fact: string }>({
    name: 'records-naming',
    text: `
      select m.fact from mentions m
      where m.owner = $1::uuid and m.what = $2 and m.key = $3
        and ($4::timestamptz is null or m.performed_to >= $4 or exists (
          select from facts f where f.owner = m.owner and f.id = m.fact and f.statement like '%"at":%'))
      order by m.performed_to, m.fact`,
    values: [owner, what, key, since],
  });
  return rows.map((row) => row.fact);
}
