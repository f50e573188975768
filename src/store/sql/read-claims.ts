import type { Tx } from '../transaction.ts';

export type KeyRow = {
  readonly owner: string;
  readonly client: string;
  readonly key: string;
  readonly route: string;
  readonly fingerprint: string;
  readonly status: number;
  readonly answer: string;
};

/** Keys that are bound already, with the answers that they are bound to. */
export async function readKeys(tx: Tx, keys: readonly Pick<KeyRow, 'owner' | 'client' | 'key'>[]): Promise<KeyRow[]> {
  if (keys.length === 0) return [];
  const { rows } = await tx.query<KeyRow>({
    name: 'read-keys',
    text: `
      select owner, client, key, route, fingerprint, status, answer from idempotency_keys
      where (owner, client, key) in (select * from unnest($1::uuid[], $2::text[], $3::text[]))`,
    values: [keys.map((one) => one.owner), keys.map((one) => one.client), keys.map((one) => one.key)],
  });
  return rows;
}

export type ReferenceRow = {
  readonly owner: string;
  readonly kind: string;
  readonly reference: string;
  readonly fact: string;
};

/** References that a record has already. */
export async function readReferences(tx: Tx, sought: readonly Omit<ReferenceRow, 'fact'>[]): Promise<ReferenceRow[]> {
  if (sought.length === 0) return [];
  const { rows } = await tx.query<ReferenceRow>({
    name: 'read-references',
    text: `
      select owner, kind, reference, fact from record_references
      where (owner, kind, reference) in (select * from unnest($1::uuid[], $2::text[], $3::text[]))`,
    values: [sought.map((one) => one.owner), sought.map((one) => one.kind), sought.map((one) => one.reference)],
  });
  return rows;
}
