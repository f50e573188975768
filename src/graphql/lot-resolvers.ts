/** Lots, and the units that their parts went into. */
import type { LotUse } from '../app/read-lots.ts';
import { stillIn } from '../core/reach/still.ts';
import { connectionIn } from './connection.ts';
import type { GraphResolvers } from './generated/resolver-types.ts';

export const lotResolvers = {
  Lot: {
    parts: async (lot, _, context) => (await context.lot({ maker: lot.maker, number: lot.number }))?.parts ?? [],
    uses: async (lot, args, context) =>
      connectionIn(await context.lotUses({ maker: lot.maker, number: lot.number }), args, useCursor),
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
