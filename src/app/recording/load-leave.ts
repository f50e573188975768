/** Locks whom and what leave is about, and loads the leave that decisions are made by. */
import type { Edition } from '../../core/catalogue/edition.ts';
import { lockPeople } from '../../store/sql/lock-people.ts';
import { lockStock } from '../../store/sql/lock-stock.ts';
import type { FactRow } from '../../store/sql/read-facts.ts';
import { readApprovals, readAuthorisations } from '../../store/sql/read-leave.ts';
import type { PersonRow } from '../../store/sql/read-stock.ts';
import type { Tx } from '../../store/transaction.ts';
import type { Loaded } from './loaded.ts';
import type { Request } from './request.ts';
import type { Wants } from './wants.ts';

type Given = {
  readonly wanted: readonly { readonly request: Request; readonly wants: Wants }[];
  /** All whom requests name, and who did what they are about. */
  readonly people: readonly PersonRow[];
  readonly records: readonly FactRow[];
  readonly contents: ReadonlyMap<string, Edition>;
};
type ShopOf = { readonly owner: string; readonly key: string };

export async function loadLeave(
  tx: Tx,
  { wanted, people, records, contents }: Given,
): Promise<Pick<Loaded, 'authorisations' | 'approvals'>> {
  const requests = wanted.map((one) => one.request);
  const demands = [...contents.values()].flatMap((one) => one.demands ?? []);
  const authorised = demands.some((one) => one.authorised !== undefined) ? people : [];
  const approved = demands.some((one) => one.approvedShops === true) ? wanted.flatMap(shopsIn) : [];
  const subjects = requests.flatMap((request) => subjectsOf(request, people, records));
  const [, , , , authorisations, approvals] = await Promise.all([
    lockPeople(tx, 'update', subjects),
    lockPeople(tx, 'share', authorised),
    lockStock(
      tx,
      'shop',
      'update',
      requests.flatMap((request) => shopOf(request, records)),
    ),
    lockStock(tx, 'shop', 'share', approved),
    readAuthorisations(tx, authorised),
    readApprovals(tx, approved),
  ]);
  return { authorisations, approvals };
}

function shopsIn({ request, wants }: Given['wanted'][number]): ShopOf[] {
  return wants.stock.filter((one) => one.kind === 'shop').map(({ key }) => ({ owner: request.owner, key }));
}

/** Whom a request gives leave, takes it from, or forgets. */
function subjectsOf(request: Request, people: Given['people'], records: Given['records']): readonly PersonRow[] {
  const own = people.filter((one) => one.owner === request.owner);
  if (request.kind === 'authorisation') return own.filter((one) => one.ownId === request.technician);
  if (request.kind === 'erasure') return own.filter((one) => one.id === request.person);
  if (request.kind !== 'authorisation-withdrawal') return [];
  return own.filter((one) => one.id === statementOf(request.authorisation, records)['technician']);
}

function shopOf(request: Request, records: Given['records']): ShopOf[] {
  if (request.kind !== 'approval' && request.kind !== 'approval-withdrawal') return [];
  const key = request.kind === 'approval' ? request.body.shop : statementOf(request.approval, records)['shop'];
  return request.distributor === null || key === undefined ? [] : [{ owner: request.distributor, key }];
}

function statementOf(fact: string, records: Given['records']): Readonly<Record<string, string>> {
  return JSON.parse(records.find((one) => one.id === fact)?.statement ?? '{}') as Record<string, string>;
}
