/** A unit as it was, and the records that led there. */
import { connectionIn } from './connection.ts';
import type { GraphResolvers } from './generated/resolver-types.ts';
import { mountingCursor, settingsOf, stationsOf } from './unit-resolvers.ts';

export const historyResolvers = {
  History: {
    mountings: ({ mountings }, args) => connectionIn(mountings, args, mountingCursor),
    entries: ({ entries }, args) =>
      connectionIn(args.order === 'newest' ? entries.toReversed() : entries, args, ({ cursor }) => cursor),
  },
  UnitThen: {
    registered: ({ born }) => born !== null,
    fit: ({ fit }) => stationsOf(fit),
    settings: ({ settings }) => settingsOf(settings),
    retiredSince: ({ retired }) => retired?.since ?? null,
    mounted: ({ mounted }, _, context) => (mounted === null ? null : context.unit(mounted.unit)),
    mountedSince: ({ mounted }) => mounted?.since ?? null,
    changedUnrecorded: ({ changedUnrecorded }) =>
      changedUnrecorded.map(({ station, before, found }) => ({ station, before, found: found.elements })),
  },
  HistoryEntry: {
    record: ({ id }, _, context, info) => (id === null ? null : context.recordAsked(id, info)),
    correctedBy: ({ correctedBy }, _, context) => (correctedBy === null ? null : context.record(correctedBy)),
  },
} satisfies GraphResolvers;
