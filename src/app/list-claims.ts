/** Claims by unit, status, part and the time of the failure, page by page. */
import type { ClaimDecision } from '../core/claims/decision-body.ts';
import { type ClaimStatus, claimStatus } from '../core/claims/status.ts';
import { nameKey } from '../core/records/name-key.ts';
import { Problem } from '../errors.ts';
import { findUnits, namesOfUnits } from '../store/sql/find-units.ts';
import { type ListedClaim, listClaims as listRows, readClaimEntries, readClaims } from '../store/sql/read-warranty.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { isUuid } from './list-records.ts';
import { cut, type PageAsked, unknownCursor } from './page.ts';
import { unitOf } from './read-claim.ts';
import { isAnalyst, readingContext, requireOwnMake, requireReading } from './read-unit.ts';

export type ClaimsAsked = {
  /** Pump or control by maker and name: where both are called so, both are meant. */
  readonly unit?: { readonly maker: string; readonly name: string };
  readonly status?: ClaimStatus;
  readonly part?: string;
  /** Instants, of the failure. */
  readonly from?: string;
  readonly to?: string;
};

export async function listClaims(app: App, asker: Asker, asked: ClaimsAsked, { first, after }: PageAsked) {
  requireReading(asker);
  if (after !== null && !isUuid(after)) throw unknownCursor();
  const { unit, ...sought } = asked;
  if (unit !== undefined) requireOwnMake(asker, unit.maker);
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    if (after !== null && !(await readClaims(tx, [after])).some((one) => one.fact === after)) throw unknownCursor();
    const units = unit === undefined ? {} : { units: await unitsCalled(tx, unit) };
    const of = asker.maker !== null && isAnalyst(asker) ? { maker: asker.maker } : {};
    const page = cut(await listRows(tx, { ...sought, ...units, ...of }, after, first + 1), first, (row) => row.fact);
    return { ...page, items: await itemsOf(tx, page.items) };
  });
}

async function unitsCalled(tx: Tx, { maker, name }: NonNullable<ClaimsAsked['unit']>): Promise<string[]> {
  const kinds = ['pump', 'control'] as const;
  const found = await findUnits(
    tx,
    kinds.map((unitKind) => ({ unitKind, maker, nameKey: nameKey(name) })),
  );
  if (found.length === 0) throw new Problem('not-found', `No pump or control of ${maker} is known as ${name}.`);
  return found.map((one) => one.unit);
}

export type ClaimItem = Awaited<ReturnType<typeof itemsOf>>[number];

/** As they are listed. */
export async function itemsOf(tx: Tx, rows: readonly ListedClaim[]) {
  const names = await namesOfUnits(
    tx,
    rows.map((row) => row.unit),
  );
  const entries = Map.groupBy(
    await readClaimEntries(
      tx,
      rows.map((row) => row.fact),
    ),
    ({ claim }) => claim,
  );
  return rows.map((row) => {
    const said = (entries.get(row.fact) ?? []).map(({ decision }) => ({ decision: decision as ClaimDecision | null }));
    return {
      ...{ claim: row.fact, ...claimStatus(said, row.replacedBy), replaces: row.replaces, replacedBy: row.replacedBy },
      ...{ distributor: row.distributor, reference: row.reference, unit: unitOf(row, names) },
      ...{ part: row.part, symptom: row.symptom, failureMode: row.failureMode },
      failed: { from: row.failedFrom, to: row.failedTo },
      raised: { from: row.raisedFrom, to: row.raisedTo },
      recordedAt: row.recordedAt,
    };
  });
}
