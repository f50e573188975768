/** Forward from a lot, a part, an instrument, a person, a period: every unit that records which match were about, and how it stands. */

import type { UnitKind } from '../core/history/event.ts';
import type { Status } from '../core/history/fold.ts';
import { elementAlone, type ReachCriteria } from '../core/reach/criteria.ts';
import type { Still } from '../core/reach/still.ts';
import { lotNamed } from '../core/records/lot-name.ts';
import { Problem } from '../errors.ts';
import { findDistributor } from '../store/sql/find-distributor.ts';
import { findReach, type Reached, type ReachSought } from '../store/sql/find-reach.ts';
import { kitLotsHolding } from '../store/sql/kit-lots-holding.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import { readPeople, readStock } from '../store/sql/read-stock.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { type Settled, settledFor } from './horizon.ts';
import { isUuid, ownerOf } from './list-records.ts';
import { cut, everyPage, type Page, type PageAsked, unknownCursor } from './page.ts';
import { elementReachedThen } from './reached-then.ts';
import { isAnalyst, readingContext, requireOwnMake, requireReading } from './read-unit.ts';
import { requireLot } from './require-lot.ts';
import { viewReach } from './view-reach.ts';

export type ReachUse = {
  readonly place: string;
  readonly role: 'element' | 'seal';
  readonly item: string;
  readonly quantity: number;
  /** That the record names for it. */
  readonly lot: string | null;
  /** The lot of kits that it came in, where the lot that is sought is that of the piece. */
  readonly through: string | null;
  readonly still: 'in' | 'out' | 'unknown';
};
export type ReachRecord = {
  readonly id: string;
  readonly kind: string;
  readonly performed: { readonly from: string; readonly to: string };
  readonly uses: readonly ReachUse[];
};
export type ReachItem = {
  readonly unit: string;
  readonly kind: UnitKind | null;
  readonly name: string | null;
  readonly still: Still;
  readonly records: readonly ReachRecord[];
  /** What was done to it after the last of the records, in the order of work. */
  readonly doneSince: readonly { readonly kind: string; readonly performed: ReachRecord['performed'] }[];
  readonly status: Status | null;
  readonly mounted: { readonly unit: string; readonly name: string | null } | null;
  readonly holder: { readonly distributor: string; readonly shop: string; readonly since: string } | null;
  /** The unit that this one turned out to be. */
  readonly mergedInto: string | null;
};

/** Units that are read at once where all are asked for: what the first page of a lot finds and leaves is found again for the next. */
const pageSize = 500;

/**
 * By unit, in the order of their ids.
 * @param known as it was known then; null: as it is now
 * @throws Problem not-found where the lot, instrument, person, shop or distributor is nobody's that the asker may see
 */
export async function findUnitsReached(
  app: App,
  asker: Asker,
  criteria: ReachCriteria,
  { first, after }: PageAsked,
  known: string | null = null,
): Promise<Page<ReachItem> & Partial<Settled>> {
  requireReading(asker);
  if (criteria.maker !== undefined) requireOwnMake(asker, criteria.maker);
  const context = readingContext(asker);
  if (after !== null && !isUuid(after)) throw unknownCursor();
  const page = { after, most: first + 1 };
  const element = known === null ? null : elementAlone(criteria);
  const shown = async (tx: Tx, rows: readonly Reached[], until: Settled | null) => {
    const byUnit = [...Map.groupBy(rows, (row) => row.unit)].map(([unit, matched]) => ({ unit, matched }));
    const { items, pageInfo } = cut(byUnit, first, (one) => one.unit);
    return { items: await viewReach(tx, asker, criteria, items, until?.known ?? null), pageInfo, ...until };
  };
  const answer = await withTransaction(app.pools.reading, context, async (tx) => {
    const until = known === null ? null : settledFor(known, await tx.began);
    if (after !== null && (await readCurrent(tx, [after])).length === 0) throw unknownCursor();
    const sought = await resolve(tx, whose(asker), criteria, until?.known ?? null);
    if (element !== null) return { sought, until };
    const found = await findReach(tx, sought, page);
    if (found.length === 0) await requireSought(tx, asker, criteria);
    return await shown(tx, found, until);
  });
  if ('items' in answer) return answer;
  const found = await elementReachedThen(app, asker, answer.sought, page);
  return await withTransaction(app.pools.reading, context, (tx) => shown(tx, found, answer.until));
}

/**
 * All of them, page by page, each read in transactions of its own. What is recorded meanwhile is in it or not.
 * @throws Problem at once, before the first page is asked for
 */
export async function everyUnitReached(
  app: App,
  asker: Asker,
  criteria: ReachCriteria,
  known: string | null = null,
): Promise<AsyncGenerator<readonly ReachItem[], void, undefined>> {
  const next = async (after: string | null) =>
    await findUnitsReached(app, asker, criteria, { first: pageSize, after }, known);
  return everyPage(await next(null), next);
}

/** Who seeks: a distributor among its own records, or a maker among those of its make. */
export type Whose = { readonly own: string | null; readonly maker: string | null };

export function whose(asker: Asker): Whose {
  return { own: ownerOf(asker), maker: isAnalyst(asker) ? asker.maker : null };
}

/** Names as who seeks means them. What nobody is called leads to no record. */
export async function resolve(
  tx: Tx,
  { own, maker }: Whose,
  criteria: ReachCriteria,
  known: string | null = null,
): Promise<ReachSought> {
  const { lot, technician, distributor } = criteria;
  const named = distributor === undefined ? null : ((await findDistributor(tx, distributor)) ?? nobody);
  const [person] =
    own === null || technician === undefined ? [] : await readPeople(tx, [{ owner: own, ownId: technician }]);
  return {
    ...criteria,
    owner: own === null || named === null ? (own ?? named) : own === named ? own : nobody,
    person: person?.id ?? technician,
    ...(maker !== null && { maker }),
    kits: lot === undefined ? [] : await kitLotsHolding(tx, [lot], known),
    ...(known !== null && { known }),
  };
}

const nobody = '00000000-0000-0000-0000-000000000000';

/** Nobody affected is a heavy answer: it is given of what is known, not of a slip of the pen. */
export async function requireSought(tx: Tx, asker: Asker, criteria: ReachCriteria): Promise<void> {
  const { lot, instrument, technician, shop, distributor } = criteria;
  if (lot !== undefined) await requireLot(tx, asker, lotNamed(lot));
  const owner = ownerOf(asker);
  if (owner === null) {
    if (distributor !== undefined && (await findDistributor(tx, distributor)) === null)
      throw new Problem('not-found', 'There is no distributor of this name.');
    return;
  }
  if (distributor !== undefined && distributor !== asker.distributor)
    throw new Problem('not-found', 'Records of another distributor are not yours to see.');
  const sought = [
    ...(instrument === undefined ? [] : [{ owner, kind: 'instrument' as const, key: instrument }]),
    ...(shop === undefined ? [] : [{ owner, kind: 'shop' as const, key: shop }]),
  ];
  const stated = await readStock(tx, sought);
  const missing = sought.find(({ kind, key }) => !stated.some((one) => one.kind === kind && one.key === key));
  if (missing !== undefined)
    throw new Problem('not-found', `You have stated no ${missing.kind} of the id ${missing.key}.`);
  if (technician !== undefined && (await readPeople(tx, [{ owner, ownId: technician }])).length === 0)
    throw new Problem('not-found', `You have stated no technician of the id ${technician}.`);
}
