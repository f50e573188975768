/** History of a unit through GraphQL: 5 records, about 120 objects, beside raw SQL over a bare HTTP server. */

import { readingRow } from './reading/peers.ts';
import { unitHistory } from './reading/unit-history.ts';

export const historyRaw = readingRow(
  {
    name: 'history-raw',
    claim: 'history of a unit through GraphQL: 5 records, about 120 objects',
    comparator: 'raw SQL over a bare HTTP server',
    ...{ gate: 0.5, goal: 0.8 },
  },
  'raw',
  unitHistory,
);
