/** Canaries over mixed traffic: nothing that one planted comes out to another, whatever is asked, dropped or killed. */
import { afterAll, describe, expect, it } from 'vitest';
import { closePools } from '../../../src/store/pools.ts';
import { testDatabase } from '../../support/database.ts';
import { rowsOf } from '../../support/rows.ts';
import { organisations, testService } from '../../support/service.ts';
import { withSuperuser } from '../../support/test-server.ts';
import { gate, tell } from '../gate-options.ts';
import { alteredPools } from './altered-pools.ts';
import { connections, fourConnections, runTraffic, runUntilCaught } from './traffic.ts';
import { stems } from './words.ts';

const db = await testDatabase();
const four = fourConnections(db.serviceUrl);
afterAll(() => four.close());
const service = await testService(db, { pools: four.pools });

it('nothing that one planted comes out to another', async () => {
  const { leaks, requests, statuses, faults, killed, logLines, neverAsked, neverWell } = await runTraffic(
    service,
    db,
    gate,
  );
  tell(`${requests} requests over ${connections} connections, ${killed} backends killed: ${JSON.stringify(statuses)}`);
  tell(`${logLines} lines of the log looked at; operations never answered well: ${neverWell.join(', ') || 'none'}`);
  tell(`words and ids of others that came out: ${leaks.length}; failures without a reason given: ${faults.length}`);
  expect(faults).toEqual([]);
  expect(leaks).toEqual([]);
  expect(neverAsked).toEqual([]);
  expect(killed).toBeGreaterThan(requests / 200);
  expect(statuses['hung up']).toBeGreaterThan(requests / 200);
});

it('nothing that one planted is kept under the other, but in what the other tried', async () => {
  const tables = await rowsOf<{ name: string }>(
    db,
    `select relname::text as name from pg_class where relrowsecurity and relname <> 'attempts'`,
  );
  const strayed: string[] = [];
  let rows = 0;
  for (const { name } of tables) {
    for (const [one, other] of [
      ['brackwater', 'tollan'],
      ['tollan', 'brackwater'],
    ] as const) {
      const pattern = Object.values(stems[other]).join('|');
      const found = await rowsOf<{ n: number; of: number }>(
        db,
        `select count(*)::int as n, count(*) filter (where t::text ~* $2)::int as of from ${name} t where owner = $1`,
        [organisations[one].id, pattern],
      );
      rows += found[0]?.n ?? 0;
      if (found[0]?.of !== 0) strayed.push(`${found[0]?.of} rows of ${name} of ${one} hold words of ${other}`);
    }
  }
  tell(`${rows} rows of ${tables.length} tables looked at: ${strayed.length} with words of the other`);
  expect(strayed).toEqual([]);
});

/** Requests after which a control that was not caught is a failure of the gate. */
const atMost = 10_000;
const both = [organisations.brackwater.id, organisations.tollan.id].join(',');
describe.each([
  [
    'every context holds both distributors',
    [
      {
        from: `set_config('app.orgs', $5, true)`,
        to: `set_config('app.orgs', case when $5::text = '' then '' else $5::text || ',${both}' end, true)`,
      },
    ],
    null,
  ],
  [
    'row security of facts is off, and records are looked up by id alone',
    [],
    'alter table facts disable row level security',
  ],
  [
    'the policy of attempts lets everybody see all',
    [],
    'create policy wide on attempts for select to asfitted_reader using (true)',
  ],
  [
    'row security of people is off, and they are listed by what they are alone',
    [],
    'alter table people disable row level security',
  ],
] as const)('control: %s', async (mistake, alterations, change) => {
  const broken = await testDatabase({ verified: false });
  const { pools } = alteredPools(broken.serviceUrl, alterations);
  afterAll(() => closePools(pools));
  const mistaken = await testService(broken, { pools });

  it('is caught', async () => {
    if (change !== null) await withSuperuser(broken.superuserUrl, (client) => client.query(change));
    const { leaks, requests } = await runUntilCaught(mistaken, broken, { atMost, seed: gate.seed });
    expect(leaks).not.toEqual([]);
    tell(`control caught within ${requests} requests: ${mistake}: ${leaks[0]?.slice(0, 100)}`);
  });
});

describe.each([
  ['a word of another in one answer of a hundred', 'answer'],
  ['a word in the log', 'log'],
] as const)('control: %s', async (what, where) => {
  const broken = await testDatabase({ verified: false });
  const leaky = await testService(broken);
  let answers = 0;
  leaky.server.addHook('onSend', async (request, _, payload) => {
    answers += 1;
    if (answers % 100 !== 0 || typeof payload !== 'string' || !payload.startsWith('{')) return payload;
    if (where === 'log') request.log.info({ said: stems.tollan.open }, 'leak');
    else return `${payload.slice(0, -1)}, "leak": "${stems.tollan.kept}-leak ${stems.brackwater.kept}-leak"}`;
    return payload;
  });

  it('is caught', async () => {
    const { leaks, requests } = await runUntilCaught(leaky, broken, { atMost, seed: gate.seed });
    expect(leaks).not.toEqual([]);
    tell(`control caught within ${requests} requests: ${what}: ${leaks[0]?.slice(0, 100)}`);
  });
});
