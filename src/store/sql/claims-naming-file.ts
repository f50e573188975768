import type { Tx } from '../transaction.ts';

/** Claims and evidence that name this file, as far as the transaction may see. Statements are sifted as text first. */
export async function claimsNamingFile(
  tx: Tx,
  digest: string,
): Promise<{ readonly owner: string; readonly id: string }[]> {
  const { rows } = await tx.query<{ owner: string; id: string }>({
    name: 'claims-naming-file',
    text: `
      select owner, id from facts
      where (owner, id) in (select owner, fact from claims union all select owner, fact from claim_entries where told is null)
        and strpos(statement, $1::text) > 0 and statement::jsonb -> 'attachments' ? $1::text`,
    values: [digest],
  });
  return rows;
}
