/** PostGraphile 5 (MIT) on the same tables, told by comments what leads to what; a process of its own, on PORT. */
import { createServer } from 'node:http';
import { postgraphile } from 'postgraphile';
import { makePgService } from 'postgraphile/adaptors/pg';
import { grafserv } from 'postgraphile/grafserv/node';
import { PostGraphileAmberPreset } from 'postgraphile/presets/amber';

const { PORT = '', PEER_DATABASE_URL: connectionString = '', PEER_ORG: org = '' } = process.env;
const pgSettings = { role: 'asfitted_recorder', 'app.orgs': org };

const pgl = postgraphile({
  extends: [PostGraphileAmberPreset],
  pgServices: [makePgService({ connectionString, schemas: ['public'] })],
  grafast: { context: () => ({ pgSettings }) },
  grafserv: { graphiql: false, watch: false },
});
const server = createServer();
const served = pgl.createServ(grafserv);
await served.addTo(server);
await pgl.getSchema();
server.listen(Number(PORT), '127.0.0.1');
process.on('SIGTERM', () => process.exit(0));
