/** Counts: conversions, rules that held or refused them, and what is held and due. */
import { connectionIn, type pageAsked } from './connection.ts';
import { type FindingArgs, findingsSought } from './findings-sought.ts';
import type { GraphResolvers } from './generated/resolver-types.ts';

export const rateResolvers = {
  conversions: async (_, { filter, ...page }, context) => {
    const counts = await context.conversions(filter ?? {});
    return connectionIn(counts, page, ({ distributor, shop, function: fun, month }) =>
      JSON.stringify([month, distributor, shop, fun]),
    );
  },
  conversionRules: async (_, { filter, ...page }, context) =>
    connectionIn(await context.rulesOfConversions(filter ?? {}), page, ({ rule }) => rule),
  heldCounts: async (_, args, context) => standing(await context.standing('hold', countedOf(args)), args),
  dueCounts: async (_, args, context) => standing(await context.standing('due', countedOf(args)), args),
} satisfies GraphResolvers['Query'];

function countedOf(args: FindingArgs) {
  return { ...findingsSought(args), ...(args.known != null && { known: args.known }) };
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
      readonly overdue?: number;
    }[];
  },
  args: Parameters<typeof pageAsked>[0],
) {
  const nodes = counts.map(({ days, ...one }) => ({ ...one, fromDays: days.from, toDays: days.to }));
  return connectionIn(nodes, args, ({ shop, rule, fromDays }) => JSON.stringify([shop, rule, fromDays]));
}
