import type { Tx } from '../transaction.ts';

/** The records of this owner that name it, in the order of work. */
export async function recordsNaming(
  tx: Tx,
  owner: string,
  what: 'instrument' | 'technician' | 'shop',
  key: string,
): Promise<string[]> {
  const { rows } = await tx.query<{ fact: string }>({
    name: 'records-naming',
    text: `
      select fact from mentions where owner = $1::uuid and what = $2 and key = $3 order by performed_to, fact`,
    values: [owner, what, key],
  });
  return rows.map((row) => row.fact);
}
