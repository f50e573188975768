/** History of a unit through GraphQL: 5 records, about 120 objects, beside PostGraphile 5 on the same tables. */

import { readingRow } from './reading/peers.ts';
import { unitHistory } from './reading/unit-history.ts';

export const historyPostgraphile = readingRow(
  {
    name: 'history-postgraphile',
    claim: 'history of a unit through GraphQL: 5 records, about 120 objects',
    comparator: 'PostGraphile 5 on the same tables',
    ...{ gate: 2.5, goal: 4 },
  },
  'postgraphile',
  unitHistory,
);
