/** Reach of a lot of 300 units, beside PostGraphile 5 on the same tables. */
import { lotReach } from './reading/lot-reach.ts';
import { readingRow } from './reading/peers.ts';

export const reachPostgraphile = readingRow(
  {
    name: 'reach-postgraphile',
    claim: 'reach of a lot of 300 units',
    comparator: 'PostGraphile 5 on the same tables',
    ...{ gate: 2, goal: 3 },
  },
  'postgraphile',
  lotReach,
);
