/**
 * Lots, and the claims about units that had a part of them: for the warranty desk. A claim counts for a lot where a part of
 * the lot may have been put in by the failure, into the unit that the claim names or into what that was mounted with then.
 * For askers whose scopes were looked at.
 */
import { concernedUnits } from '../core/claims/concerned-units.ts';
import type { ClaimStatus } from '../core/claims/status.ts';
import { type Still, stillIn, stillOfParts } from '../core/reach/still.ts';
import { type LotName, lotKey, lotNamed } from '../core/records/lot-name.ts';
import { piecesOfKitLots } from '../store/sql/kit-lots-holding.ts';
import { lotsInUnits } from '../store/sql/lots-in-units.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import { readEvents } from '../store/sql/read-events.ts';
import { type ClaimsSought, listClaims } from '../store/sql/read-warranty.ts';
import { type Tx, withTransaction } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { type ClaimItem, itemsOf } from './list-claims.ts';
import { type LotUse, lotUses } from './lot-uses.ts';
import { readingContext } from './read-unit.ts';

/** A unit that ever had a part of a lot. */
export type ExposedUnit = {
  readonly unit: string;
  readonly still: Still;
  /** That put parts of the lot in, in the order in which they were recorded. */
  readonly records: readonly string[];
  readonly claims: readonly ClaimItem[];
};
export type Exposure = {
  /** By unit, in the order of their ids. */
  readonly units: readonly ExposedUnit[];
  /** In the order in which they were recorded. */
  readonly claims: readonly ClaimItem[];
};

/** Of each lot, in the order of `lots`; as far as the asker may see. A claim that another corrects counts for nothing. */
export async function readExposures(app: App, asker: Asker, lots: readonly LotName[]): Promise<Exposure[]> {
  const claims = await claimsWithUnits(app, asker, {});
  return await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const byLot = await claimsByLot(tx, claims);
    const uses = await lotUses(tx, lots);
    const units = [...new Set(uses.flat().map((use) => use.unit))];
    const states = new Map((await readCurrent(tx, units)).map((state) => [state.unit, state.stations]));
    return lots.map(({ maker, number }, at) => {
      const claimed = byLot.get(lotKey(maker, number)) ?? [];
      const exposed = [...Map.groupBy(uses[at] as LotUse[], (use) => use.unit)].map(([unit, own]) => ({
        unit,
        still: stillOfParts(own.map((use) => stillIn(use, states.get(unit)))),
        records: [...new Set(own.map((use) => use.fact))],
        claims: once(claimed.filter((one) => one.unit === unit)),
      }));
      return { units: exposed.toSorted((a, b) => (a.unit < b.unit ? -1 : 1)), claims: once(claimed) };
    });
  });
}

export type ClaimedLotsAsked = Omit<ClaimsSought, 'units'> & { readonly maker: string };
export type ClaimedLot = { readonly lot: LotName; readonly claims: number };

/** Of the maker's lots those with claims of the kind that is asked for, and how many: most first, then by number. */
export async function listClaimedLots(
  app: App,
  asker: Asker,
  { maker, ...sought }: ClaimedLotsAsked,
): Promise<ClaimedLot[]> {
  const claims = await claimsWithUnits(app, asker, sought);
  const byLot = await withTransaction(app.pools.reading, readingContext(asker), (tx) => claimsByLot(tx, claims));
  return [...byLot]
    .map(([key, claimed]) => ({ lot: lotNamed(key), claims: once(claimed).length }))
    .filter(({ lot }) => lot.maker === maker)
    .sort((a, b) => b.claims - a.claims || (a.lot.number < b.lot.number ? -1 : 1));
}

/** How many units have a claim of each status; one with two claims may be in two of them. */
export function countUnits(units: readonly ExposedUnit[], status: ClaimStatus): number {
  return units.filter(({ claims }) => claims.some((one) => one.status === status)).length;
}

type ConcernedUnit = { readonly claim: ClaimItem; readonly unit: string };

/** The claims that count, by every unit that each is about. Events are read whole: they hold nobody's evidence. */
async function claimsWithUnits(app: App, asker: Asker, sought: ClaimsSought): Promise<ConcernedUnit[]> {
  const claims = await withTransaction(app.pools.reading, readingContext(asker), async (tx) => {
    const rows = await listClaims(tx, sought, null, null);
    return await itemsOf(
      tx,
      rows.filter((one) => one.replacedBy === null),
    );
  });
  const units = [...new Set(claims.map(({ unit }) => unit.unit))];
  const context = { role: 'recorder' as const, orgs: [], readOnly: true };
  const events = Map.groupBy(
    await withTransaction(app.pools.reading, context, (tx) => readEvents(tx, units)),
    ({ unit }) => unit,
  );
  return claims.flatMap((claim) => {
    const { unit } = claim.unit;
    return concernedUnits(unit, claim.failed, events.get(unit) ?? []).map((one) => ({ claim, unit: one }));
  });
}

/** By MAKER/NUMBER. */
async function claimsByLot(tx: Tx, claims: readonly ConcernedUnit[]): Promise<Map<string, ConcernedUnit[]>> {
  const uses = await lotsInUnits(tx, [...new Set(claims.map(({ unit }) => unit))]);
  const pieces = await piecesOfKitLots(tx, [...new Set(uses.map(({ lot }) => lot))]);
  const all = [
    ...uses,
    ...uses.flatMap((use) =>
      pieces
        .filter((one) => one.owner === use.owner && one.kitLot === use.lot && one.element === use.item)
        .map(({ lot }) => ({ ...use, lot })),
    ),
  ];
  const byUnit = Map.groupBy(all, ({ unit }) => unit);
  const found = claims.flatMap((one) =>
    (byUnit.get(one.unit) ?? [])
      .filter(({ performedFrom }) => performedFrom <= one.claim.failed.to)
      .map(({ lot }) => ({ lot, one })),
  );
  return new Map([...Map.groupBy(found, ({ lot }) => lot)].map(([lot, each]) => [lot, each.map(({ one }) => one)]));
}

function once(claims: readonly ConcernedUnit[]): ClaimItem[] {
  return [...new Map(claims.map(({ claim }) => [claim.claim, claim])).values()].sort((a, b) =>
    a.claim < b.claim ? -1 : 1,
  );
}
