/** All units that lot 1 of the first distributor reached: 300 in a history of 200,000 records. */
import type { Question } from './peers.ts';

const postgraphileQuery = `query Reach($lot: String!) {
  allPartUses(condition: { lotMaker: "ardenholm", lotNumber: $lot }, orderBy: UNIT_ID_ASC) { nodes {
    role place item quantity lotNumber
    record { rowId kind performedFrom performedTo }
    unitHeadByUnitId {
      unitId
      unitNamesByUnitId { nodes { asWritten } }
      unitStateByUnitId { status mountedWith state }
    }
  } }
}`;

export const lotReach: Question = {
  names: async () => ['L-001-01'],
  ours: (lot) => ({
    method: 'GET',
    path: `/v1/reach?lot=ardenholm/${lot}`,
    body: null,
    accept: 'application/x-ndjson',
  }),
  postgraphile: (lot) => ({
    ...{ method: 'POST', path: '/graphql' },
    body: JSON.stringify({ query: postgraphileQuery, variables: { lot } }),
  }),
  raw: (lot) => ({ method: 'GET', path: `/reach?of=${lot}`, body: null }),
  ...{ connections: 4, each: 10, before: 8 },
};
