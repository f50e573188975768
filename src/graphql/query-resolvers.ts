/** Where a query begins. */

import type { GraphQLResolveInfo } from 'graphql';
import { z } from 'zod';
import { cursorOf } from '../app/list-findings.ts';
import type { UnitPath, UnitView } from '../app/read-unit.ts';
import { lotNamed } from '../core/records/lot-name.ts';
import { Problem } from '../errors.ts';
import { asksFor } from './asks-for.ts';
import { claimQueries } from './claim-resolvers.ts';
import { connectionOf, pageAsked } from './connection.ts';
import { containmentQueries } from './containment-resolvers.ts';
import type { GraphContext } from './context.ts';
import { type FindingArgs, findingsSought } from './findings-sought.ts';
import type { GraphRecordFilter, GraphResolvers } from './generated/resolver-types.ts';
import { rateResolvers } from './rate-resolvers.ts';
import type { RecordSeen } from './record-parts.ts';

export const queryResolvers = {
  Query: {
    pump: async (_, { maker, serial }, context, info) =>
      await unitNamed({ kind: 'pump', maker, name: serial }, context, info),
    control: async (_, { maker, serial }, context, info) =>
      await unitNamed({ kind: 'control', maker, name: serial }, context, info),
    record: async (_, { id }, context) => await recordNamed(id, context),
    records: async (_, { filter, order, ...page }, context) => {
      const { items, pageInfo } = await context.records(asked(filter ?? {}), { ...pageAsked(page), order });
      const records = await Promise.all(items.map(context.record));
      return connectionOf({ items: records.filter((one) => one !== null), pageInfo }, page, ({ id }) => id);
    },
    lot: async (_, { maker, number }, context) => {
      const lot = await context.lot({ maker, number });
      if (lot === null) throw new Problem('not-found', 'No lot of this maker and number is known to you.');
      return lot;
    },
    lots: async (_, args, context) => {
      const { items, pageInfo } = await context.lots(pageAsked(args));
      return connectionOf({ items: items.map(({ id }) => ({ ...lotNamed(id), id })), pageInfo }, args, ({ id }) => id);
    },
    ...claimQueries,
    ...containmentQueries,
    held: async (_, args, context) => await findings('hold', args, context),
    due: async (_, args, context) => await findings('due', args, context),
    ...rateResolvers,
  },
} satisfies GraphResolvers;

async function unitNamed(path: UnitPath, context: GraphContext, info: GraphQLResolveInfo): Promise<UnitView> {
  const unit = await (asksFor(info, 'history') ? context.unitWithPast(path, info) : context.unitNamed(path));
  if (unit !== null) return unit;
  throw new Problem('not-found', `No ${path.kind} of this maker and name is known, or none that is yours to see.`);
}

async function recordNamed(id: string, context: GraphContext): Promise<RecordSeen> {
  const record = z.guid().safeParse(id).success ? await context.record(id.toLowerCase()) : null;
  if (record === null) throw new Problem('not-found', 'There is no record of this id.');
  return record;
}

async function findings(severity: 'hold' | 'due', args: FindingArgs & Page, context: GraphContext) {
  const sought = { ...findingsSought(args), severity };
  return connectionOf(await context.findings(sought, pageAsked(args), args.known ?? null), args, cursorOf);
}

type Page = Parameters<typeof pageAsked>[0];

/** A filter that is null is none. */
function asked(filter: GraphRecordFilter): Parameters<GraphContext['records']>[0] {
  return Object.fromEntries(Object.entries(filter).filter(([, value]) => value !== null && value !== undefined));
}
