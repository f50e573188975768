/** What is contained: unit by unit, and counted. */
import { type Contained, type ContainedSought, keyOf } from '../app/containing/list-contained.ts';
import { containmentSeverities, progressSteps } from '../core/records/containment-bodies.ts';
import { connectionIn } from './connection.ts';
import type { GraphContainedFilter, GraphResolvers } from './generated/resolver-types.ts';
import { oneOf } from './one-of.ts';

export const containmentResolvers = {
  Containment: { id: ({ containment }) => containment },
  ContainedUnit: {
    unit: ({ unit }, _, context) => context.unit(unit),
    record: ({ record }, _, context) => (record === null ? null : context.record(record)),
    addedAt: ({ added }) => added?.recordedAt ?? null,
    step: ({ progress }) => progress?.step ?? null,
    toldAt: ({ progress }) => progress?.recordedAt ?? null,
  },
} satisfies GraphResolvers;

export const containmentQueries = {
  contained: async (_, { filter, ...page }, context) =>
    connectionIn(await context.contained(soughtIn(filter)), page, keyOf),
  containedCounts: async (_, { filter, ...page }, context) =>
    connectionIn(countsOf(await context.contained(soughtIn(filter))), page, ({ containment, distributor, shop }) =>
      JSON.stringify([containment.containment, distributor, shop]),
    ),
} satisfies GraphResolvers['Query'];

/** By containment, then by distributor and shop. */
function countsOf(units: readonly Contained[]) {
  const byPlace = Map.groupBy(units, ({ containment, distributor, shop }) =>
    JSON.stringify([containment.containment, distributor ?? '', shop ?? '']),
  );
  const places = [...byPlace].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, found]) => found as [Contained]);
  return places.map(([one, ...others]) => {
    const all = [one, ...others] as readonly Contained[];
    const { containment, distributor, shop } = one;
    const count = (what: 'done' | 'overdue') => all.filter((each) => each[what]).length;
    return { containment, distributor, shop, units: all.length, done: count('done'), overdue: count('overdue') };
  });
}

/** A filter that is null is none. @throws Problem of a word that is none of its list */
function soughtIn(filter: GraphContainedFilter | null | undefined): ContainedSought {
  const { containment, severity, distributor, shop, step, done, overdue } = filter ?? {};
  return {
    ...(containment != null && { containment: containment.toLowerCase() }),
    ...(severity != null && { severity: oneOf(containmentSeverities, severity, 'severity') }),
    ...(distributor != null && { distributor }),
    ...(shop != null && { shop }),
    ...(step != null && { step: oneOf(progressSteps, step, 'step') }),
    ...(done != null && { done }),
    ...(overdue != null && { overdue }),
  };
}
