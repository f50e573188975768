/** Raw SQL over a bare HTTP server: one statement an answer, made by Postgres; a process of its own, on PORT. */
import { createServer } from 'node:http';
import pg from 'pg';

const { PORT = '', PEER_DATABASE_URL: connectionString = '', PEER_ORG: org = '' } = process.env;
const pool = new pg.Pool({
  connectionString,
  max: 6,
  options: `-c TimeZone=UTC -c app.orgs=${org} -c role=asfitted_recorder`,
});

const history = `
  select json_build_object('name', names.as_written, 'status', states.status, 'function', states.function,
    'entries', (
      select json_agg(json_build_object('kind', said.kind, 'from', said.performed_from, 'to', said.performed_to,
        'recordedAt', said.recorded_at, 'id', said.id, 'shop', said.body -> 'shop', 'reference', said.body -> 'reference',
        'torques', said.body -> 'torques', 'fitted', said.body -> 'fitted', 'seals', said.body -> 'seals',
        'checks', said.body -> 'checks', 'settings', said.body -> 'settings', 'findings', said.judged -> 'findings') order by seq)
      from (
        select facts.*, seq, statement::jsonb as body, judgement::jsonb as judged
        from (select fact, seq from unit_events where unit_id = names.unit_id order by performed_to, seq limit 5) as events
        join facts on facts.id = events.fact) as said)) as answer
  from unit_names as names join unit_states as states using (unit_id)
  where names.maker = 'ardenholm' and names.unit_kind = 'control' and names.name_key = $1`;

const reach = `
  select json_agg(answer order by unit_id) as answer from (
    select unit_id, json_build_object('unit', unit_id, 'name', max(as_written), 'status', max(status),
      'mounted', max(mounted_with::text), 'uses', json_agg(json_build_object('record', facts.id, 'kind', facts.kind,
        'from', facts.performed_from, 'to', facts.performed_to, 'place', place, 'role', role, 'item', item,
        'quantity', quantity, 'lot', lot_number))) as answer
    from part_uses join facts on facts.owner = part_uses.owner and facts.id = part_uses.fact
    join unit_names using (unit_id) join unit_states using (unit_id)
    where lot_maker = 'ardenholm' and lot_number = $1 group by unit_id) as units`;

const server = createServer((request, response) => {
  const { pathname, searchParams } = new URL(request.url ?? '/', 'http://localhost');
  const text = pathname === '/history' ? history : reach;
  pool.query<{ answer: object }>({ name: pathname, text, values: [searchParams.get('of') ?? ''] }).then(
    ({ rows }) => response.setHeader('content-type', 'application/json').end(JSON.stringify(rows[0]?.answer)),
    (error: Error) => response.writeHead(500).end(error.message),
  );
});
server.listen(Number(PORT), '127.0.0.1');
process.on('SIGTERM', () => process.exit(0));
