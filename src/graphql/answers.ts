/** The schema with everything that answers it. */
import type { App } from '../app/context.ts';
import { claimResolvers } from './claim-resolvers.ts';
import { containmentResolvers } from './containment-resolvers.ts';
import { contextFor } from './context.ts';
import type { Answers } from './graphql-routes.ts';
import { historyResolvers } from './history-resolvers.ts';
import { instant } from './instant.ts';
import { lotResolvers } from './lot-resolvers.ts';
import { queryResolvers } from './query-resolvers.ts';
import { readReports, readSchema } from './read-schema.ts';
import { recordResolvers } from './record-resolvers.ts';
import { unitResolvers } from './unit-resolvers.ts';
import { verdictResolvers } from './verdicts.ts';

export function answersOf(app: App): Answers {
  const { Unit, ...units } = unitResolvers;
  return {
    sdl: readSchema(),
    resolvers: {
      ...queryResolvers,
      ...units,
      ...historyResolvers,
      ...recordResolvers,
      ...verdictResolvers,
      ...lotResolvers,
      ...claimResolvers,
      ...containmentResolvers,
      Unit: { resolveType: Unit.__resolveType },
      Instant: instant,
    },
    reports: readReports(),
    contextFor: (asker, isCut) => contextFor(app, asker, isCut),
  };
}
