/** Reach of a lot of 300 units, beside raw SQL over a bare HTTP server. */
import { lotReach } from './reading/lot-reach.ts';
import { readingRow } from './reading/peers.ts';

export const reachRaw = readingRow(
  {
    name: 'reach-raw',
    claim: 'reach of a lot of 300 units',
    comparator: 'raw SQL over a bare HTTP server',
    ...{ gate: 0.7, goal: 0.9 },
  },
  'raw',
  lotReach,
);
