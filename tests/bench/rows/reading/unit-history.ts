/** The first five records of a control with what was done, of units of the first distributor. */
import { withSuperuser } from '../../../support/test-server.ts';
import { ownerOf, type Question } from './peers.ts';

const query = `query History($serial: String!) {
  control(maker: "ardenholm", serial: $serial) {
    name status function
    fit { station basis elements { element quantity } }
    history { entries(first: 5) { edges { node {
      kind performed { from to } recordedAt
      record {
        id shop reference technician { id }
        torques { joint how } fitted { station quantity } seals { joint quantity } removed { station quantity }
        checks { check result } settings { setting } findings { rule severity because }
      }
    } } } }
  }
}`;

/** Statement and judgement come as texts that hold the rest: the tables keep them so. */
const postgraphileQuery = `query History($serial: String!) {
  unitNameByMakerAndUnitKindAndNameKey(maker: "ardenholm", unitKind: "control", nameKey: $serial) {
    asWritten
    unitHeadByUnitId {
      unitStateByUnitId { status function state }
      unitEventsByUnitId(first: 5) { nodes {
        seq kind performedFrom performedTo recordedAt
        record {
          rowId kind statement judgement
          uses { nodes { line role place item quantity lotMaker lotNumber } }
        }
      } }
    }
  }
}`;

export const unitHistory: Question = {
  names: async (stage) => {
    const owner = await ownerOf(stage);
    const { rows } = await withSuperuser(stage.superuserUrl, (client) =>
      client.query<{ name: string }>(
        `select as_written as name from unit_names join facts on facts.id = unit_names.fact
         where as_written like 'K-PL1-%' and as_written <> 'K-PL1-CELL' and owner = $1 order by md5(as_written) limit 500`,
        [owner],
      ),
    );
    return rows.map(({ name }) => name);
  },
  ours: (serial) => ({ method: 'POST', path: '/graphql', body: JSON.stringify({ query, variables: { serial } }) }),
  postgraphile: (serial) => ({
    ...{ method: 'POST', path: '/graphql' },
    body: JSON.stringify({ query: postgraphileQuery, variables: { serial } }),
  }),
  raw: (serial) => ({ method: 'GET', path: `/history?of=${serial}`, body: null }),
  ...{ connections: 16, each: 20, before: 10 },
};
