import type { Tx } from '../transaction.ts';

export type StockKind = 'shop' | 'technician' | 'instrument' | 'lot' | 'attachment';
export type StockRow = {
  readonly owner: string;
  readonly kind: StockKind;
  readonly key: string;
  readonly fact: string;
  readonly version: number;
  readonly fingerprint: string;
  readonly statement: string;
};

/** The current versions of these items. */
export async function readStock(
  tx: Tx,
  sought: readonly Pick<StockRow, 'owner' | 'kind' | 'key'>[],
): Promise<StockRow[]> {
  if (sought.length === 0) return [];
  const { rows } = await tx.query<StockRow>({
    name: 'read-stock',
    text: `
      select owner, kind, key, fact, version, fingerprint, statement from stock_items
      where (owner, kind, key) in (select * from unnest($1::uuid[], $2::text[], $3::text[]))`,
    values: [sought.map((one) => one.owner), sought.map((one) => one.kind), sought.map((one) => one.key)],
  });
  return rows;
}

export type PersonRow = {
  readonly owner: string;
  readonly id: string;
  readonly ownId: string;
  readonly subject: string | null;
};

/** People by the shop's own ids. Their names are not read: nothing is judged by them. */
export async function readPeople(tx: Tx, sought: readonly Pick<PersonRow, 'owner' | 'ownId'>[]): Promise<PersonRow[]> {
  if (sought.length === 0) return [];
  const { rows } = await tx.query<PersonRow>({
    name: 'read-people',
    text: `
      select owner, id, own_id as "ownId", subject from people
      where (owner, own_id) in (select * from unnest($1::uuid[], $2::text[]))`,
    values: [sought.map((one) => one.owner), sought.map((one) => one.ownId)],
  });
  return rows;
}

/** People by the service's ids. */
export async function readPeopleById(tx: Tx, sought: readonly Pick<PersonRow, 'owner' | 'id'>[]): Promise<PersonRow[]> {
  if (sought.length === 0) return [];
  const { rows } = await tx.query<PersonRow>({
    name: 'read-people-by-id',
    text: `
      select owner, id, own_id as "ownId", subject from people
      where (owner, id) in (select * from unnest($1::uuid[], $2::uuid[]))`,
    values: [sought.map((one) => one.owner), sought.map((one) => one.id)],
  });
  return rows;
}
