/** Counts: conversions, rules that held or refused them, and what is held and due. */
import { connectionIn } from './connection.ts';
import type { GraphQueryHeldCountsArgs, GraphResolvers, RequireFields } from './generated/resolver-types.ts';

export const rateResolvers = {
  conversions: async (_, { filter, ...page }, context) => {
    const counts = await context.conversions(filter ?? {});
    return connectionIn(counts, page, ({ distributor, shop, function: fun, month }) =>
      JSON.stringify([month, distributor, shop, fun]),
    );
  },
  conversionRules: async (_, { filter, ...page }, context) =>
    connectionIn(await context.rulesOfConversions(filter ?? {}), page, ({ rule }) => rule),
  heldCounts: async (_, args, context) => standing(await context.standing('hold', soughtIn(args)), args),
  dueCounts: async (_, args, context) => standing(await context.standing('due', soughtIn(args)), args),
} satisfies GraphResolvers['Query'];

type Args = RequireFields<GraphQueryHeldCountsArgs, 'first'>;

function soughtIn({ shop, rule }: Args) {
  return { ...(shop != null && { shop }), ...(rule != null && { rule }) };
}

function standing(
  {
    counts,
  }: {
    readonly counts: readonly {
      readonly shop: string | null;
      readonly rule: string;
      readonly days: { from: number; to: number | null };
      readonly findings: number;
      readonly units: number;
    }[];
  },
  args: Args,
) {
  const nodes = counts.map(({ days, ...one }) => ({ ...one, fromDays: days.from, toDays: days.to }));
  return connectionIn(nodes, args, ({ shop, rule, fromDays }) => JSON.stringify([shop, rule, fromDays]));
}
