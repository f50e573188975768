import type { Tx } from '../transaction.ts';

type LeaveRow = {
  readonly owner: string;
  readonly id: string;
  /** Canonical JSON. */
  readonly scope: string;
  readonly from: string;
  /** The end that comes first: the one that was stated, or a withdrawal. */
  readonly until: string | null;
  readonly withdrawnFrom: string | null;
};
export type AuthorisationRow = LeaveRow & { readonly person: string };
export type ApprovalRow = LeaveRow & { readonly maker: string; readonly shop: string };

const columns = `
  l.owner, l.fact as id, l.scope, l.valid_from as "from", least(l.valid_until, e.withdrawn_from) as until,
  e.withdrawn_from as "withdrawnFrom"`;
/** Several withdrawals of one are as good as the earliest, whenever they were said. */
const ended = `
  left join lateral (
    select ends_from as withdrawn_from, reason as withdrawn_because from leave_ends
    where owner = l.owner and ends = l.fact order by ends_from, fact limit 1) e on true`;

/** What these people are authorised for, by the service's ids. */
export async function readAuthorisations(
  tx: Tx,
  people: readonly { readonly owner: string; readonly id: string }[],
): Promise<AuthorisationRow[]> {
  if (people.length === 0) return [];
  const { rows } = await tx.query<AuthorisationRow>({
    name: 'read-authorisations',
    text: `
      select ${columns}, l.person from authorisations l ${ended}
      where (l.owner, l.person) in (select * from unnest($1::uuid[], $2::uuid[])) order by l.fact`,
    values: [people.map((one) => one.owner), people.map((one) => one.id)],
  });
  return rows;
}

/** Of everybody whom the transaction may see. */
export async function listAuthorisations(tx: Tx): Promise<AuthorisationRow[]> {
  const { rows } = await tx.query<AuthorisationRow>({
    name: 'list-authorisations',
    text: `select ${columns}, l.person from authorisations l ${ended} order by l.fact`,
  });
  return rows;
}

/** What makers have approved of these shops. */
export async function readApprovals(
  tx: Tx,
  shops: readonly { readonly owner: string; readonly key: string }[],
): Promise<ApprovalRow[]> {
  if (shops.length === 0) return [];
  const { rows } = await tx.query<ApprovalRow>({
    name: 'read-approvals',
    text: `
      select ${columns}, l.maker, l.shop from approvals l ${ended}
      where (l.owner, l.shop) in (select * from unnest($1::uuid[], $2::text[])) order by l.fact`,
    values: [shops.map((one) => one.owner), shops.map((one) => one.key)],
  });
  return rows;
}

export type ListedApproval = ApprovalRow & {
  readonly distributor: string;
  readonly reason: string;
  readonly withdrawnBecause: string | null;
};

/** Of the makers or distributors of the transaction, as a page in the order in which they were recorded. */
export async function listApprovals(tx: Tx, after: string | null, most: number): Promise<ListedApproval[]> {
  const { rows } = await tx.query<ListedApproval>({
    name: 'list-approvals',
    text: `
      select ${columns}, l.maker, l.shop, l.reason, o.slug as distributor, e.withdrawn_because as "withdrawnBecause"
      from approvals l join organisations o on o.id = l.owner ${ended}
      where $1::uuid is null or l.fact > $1 order by l.fact limit $2`,
    values: [after, most],
  });
  return rows;
}

/** Whether there is such an approval that the transaction may see, and whose shop it is about. */
export async function findApproval(tx: Tx, fact: string): Promise<{ owner: string } | null> {
  const { rows } = await tx.query<{ owner: string }>({
    name: 'find-approval',
    text: 'select owner from approvals where fact = $1::uuid',
    values: [fact],
  });
  return rows[0] ?? null;
}
