/** Lots, and the units that their parts went into. */
import type { LotUse } from '../app/read-lots.ts';
import { stillIn } from '../core/reach/still.ts';
import { claimsSought, exposureOf, isSought } from './claim-resolvers.ts';
import { connectionIn } from './connection.ts';
import type { GraphResolvers } from './generated/resolver-types.ts';

export const lotResolvers = {
  Lot: {
    parts: async (lot, _, context) => (await context.lot({ maker: lot.maker, number: lot.number }))?.parts ?? [],
    uses: async (lot, args, context) =>
      connectionIn(await context.lotUses({ maker: lot.maker, number: lot.number }), args, useCursor),
    exposure: (lot, _, context) => exposureOf(lot, context),
    units: async (lot, { still, claimed, ...page }, context) => {
      const { units } = await exposureOf(lot, context);
      const asked = units.filter(
        (one) => (still == null || one.still === still) && (claimed == null || one.claims.length > 0 === claimed),
      );
      return connectionIn(asked, page, ({ unit }) => unit);
    },
    claims: async (lot, { filter, ...page }, context) => {
      const { claims } = await exposureOf(lot, context);
      const sought = claimsSought(filter);
      return connectionIn(
        claims.filter((one) => isSought(one, sought)),
        page,
        ({ claim }) => claim,
      );
    },
  },
  LotUse: {
    unit: ({ unit }, _, context) => context.unit(unit),
    record: ({ fact }, _, context) => context.record(fact),
    still: async (use, _, context) => stillIn(use, (await context.unit(use.unit))?.fit),
  },
} satisfies GraphResolvers;

/** Of the use, in the order in which it was recorded. */
function useCursor({ fact, line }: LotUse): string {
  return `${fact}.${line}`;
}
