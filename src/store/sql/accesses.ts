import type { Tx } from '../transaction.ts';

export type AccessRow = {
  readonly owner: string;
  readonly id: string;
  readonly maker: string;
  readonly client: string;
  readonly subject: string;
  /** Method and route. */
  readonly operation: string;
  readonly facts: readonly string[];
};

export async function insertAccesses(tx: Tx, rows: readonly AccessRow[]): Promise<void> {
  await tx.query({
    name: 'insert-accesses',
    text: `
      insert into accesses (owner, id, maker, client, subject, operation, facts)
      select owner, id, maker, client, subject, operation, facts
      from jsonb_to_recordset($1::jsonb) as row (
        owner uuid, id uuid, maker text, client text, subject text, operation text, facts uuid[])`,
    values: [JSON.stringify(rows)],
  });
}

/** What a distributor is shown of it: which maker it was, and not who works for it. */
export type AccessSeen = Omit<AccessRow, 'owner' | 'client' | 'subject'> & { readonly at: string };

export async function isAccess(tx: Tx, owner: string, id: string): Promise<boolean> {
  const { rows } = await tx.query({
    name: 'is-access',
    text: 'select from accesses where owner = $1::uuid and id = $2::uuid',
    values: [owner, id],
  });
  return rows.length > 0;
}

/** Ids are made in the order of time: the page before says where this one begins. */
export async function listAccesses(
  tx: Tx,
  { owner, from, to }: { readonly owner: string; readonly from: string | null; readonly to: string | null },
  after: string | null,
  most: number,
): Promise<AccessSeen[]> {
  const { rows } = await tx.query<AccessSeen>({
    name: 'list-accesses',
    text: `
      select id, at, maker, operation, facts from accesses
      where owner = $1::uuid and ($2::uuid is null or id < $2)
        and ($3::timestamptz is null or at >= $3) and ($4::timestamptz is null or at < $4)
      order by id desc limit $5`,
    values: [owner, after, from, to, most],
  });
  return rows;
}
