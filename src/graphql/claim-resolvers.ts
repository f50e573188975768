/** Claims, and the lots that they may be about. */
import type { ClaimItem } from '../app/list-claims.ts';
import { countUnits, type Exposure } from '../app/lot-exposure.ts';
import { claimedParts } from '../core/claims/claim-body.ts';
import { claimStatuses } from '../core/claims/status.ts';
import { lotKey } from '../core/records/lot-name.ts';
import { connectionIn } from './connection.ts';
import type { GraphContext } from './context.ts';
import type { GraphClaimFilter, GraphResolvers } from './generated/resolver-types.ts';
import { oneOf } from './one-of.ts';

export const claimResolvers = {
  Claim: {
    id: ({ claim }) => claim,
    unit: ({ unit }, _, context) => context.unit(unit.unit),
    record: ({ claim }, _, context) => context.record(claim),
  },
  LotExposure: {
    units: ({ units }) => units.length,
    now: (exposure) => stillIn(exposure, 'now'),
    once: (exposure) => stillIn(exposure, 'once'),
    unknown: (exposure) => stillIn(exposure, 'unknown'),
    claimed: ({ units }) => units.filter((one) => one.claims.length > 0).length,
    open: ({ units }) => countUnits(units, 'open'),
    moreEvidence: ({ units }) => countUnits(units, 'more-evidence'),
    accepted: ({ units }) => countUnits(units, 'accepted'),
    declined: ({ units }) => countUnits(units, 'declined'),
    goodwill: ({ units }) => countUnits(units, 'goodwill'),
    claims: ({ claims }) => claims.length,
  },
  ExposedUnit: {
    unit: ({ unit }, _, context) => context.unit(unit),
    records: async ({ records }, _, context) =>
      (await Promise.all(records.map(context.record))).filter((one) => one !== null),
  },
} satisfies GraphResolvers;

export const claimQueries = {
  claimedLots: async (_, { maker, filter, ...page }, context) =>
    connectionIn(await context.claimedLots({ maker, ...claimsSought(filter) }), page, ({ lot }) =>
      lotKey(lot.maker, lot.number),
    ),
} satisfies GraphResolvers['Query'];

/** However many fields ask, the lot is read once. */
export function exposureOf({ maker, number }: { maker: string; number: string }, context: GraphContext) {
  return context.exposure({ maker, number });
}

type Sought = Omit<Parameters<GraphContext['claimedLots']>[0], 'maker'>;

/** A filter that is null is none. @throws Problem of a word that is none of the list */
export function claimsSought(filter: GraphClaimFilter | null | undefined): Sought {
  const { status, part, failedFrom, failedTo } = filter ?? {};
  return {
    ...(status != null && { status: oneOf(claimStatuses, status, 'status') }),
    ...(part != null && { part: oneOf(claimedParts, part, 'part') }),
    ...(failedFrom != null && { from: failedFrom }),
    ...(failedTo != null && { to: failedTo }),
  };
}

/** As the list of claims takes them. */
export function isSought({ status, part, failed }: ClaimItem, sought: Sought): boolean {
  return (
    (sought.status === undefined || status === sought.status) &&
    (sought.part === undefined || part === sought.part) &&
    (sought.from === undefined || failed.to >= sought.from) &&
    (sought.to === undefined || failed.to < sought.to)
  );
}

function stillIn({ units }: Exposure, still: string): number {
  return units.filter((one) => one.still === still).length;
}
