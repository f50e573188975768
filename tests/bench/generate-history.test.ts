/** What is generated is what the service would have written: everything derived follows from it (see database.ts). */
import { beforeAll, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell, publish } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { inspectionOf, maker } from '../support/shop.ts';
import { withSuperuser } from '../support/test-server.ts';
import { generateHistory } from './generate-history.ts';

const db = await testDatabase();
const service = await testService(db);
let shop: Caller;

beforeAll(async () => {
  await publish(await service.as({ maker }));
  shop = await service.as({ distributor: 'brackwater' });
  const told: string[] = [];
  await withSuperuser(db.superuserUrl, async (client) => {
    await generateHistory({ records: 800, seed: 7, distributors: 5, client, shop, log: (line) => told.push(line) });
  });
  expect(told.at(-1)).toMatch(/^800 records of 160 units/);
});

it('writes as many records as were asked for, beside those that it repeats', async () => {
  const count = await rowsOf(
    db,
    `select count(distinct facts.id)::int as records, count(distinct unit_id)::int as units
     from unit_names join unit_events using (unit_id) join facts on facts.id = unit_events.fact
     where as_written not like '%-CELL' and facts.kind not in ('judgement', 'claim')`,
  );
  const claims = await rowsOf(db, `select count(*)::int as n from claims`);
  expect([...count, ...claims]).toEqual([{ records: 800 - 4, units: 160 }, { n: 4 + 1 }]);
});

it('releases most units, leaves some incomplete and holds some', async () => {
  const rows = await rowsOf<{ letters: string; status: string }>(
    db,
    `select distinct substr(as_written, 1, 4) || ' ' || status as kind
     from unit_states join unit_names using (unit_id) where status <> 'released' order by 1`,
  );
  expect(rows).toEqual([{ kind: 'K-DU incomplete' }, { kind: 'K-HE held' }, { kind: 'K-LA held' }]);
});

const shape = (text: string): unknown =>
  JSON.parse(
    text
      .replace(/[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g, 'an id')
      .replace(/\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z/g, 'a time')
      .replace(/(?<!sha256:)\b[0-9a-f]{32,64}\b/g, 'a digest')
      .replace(/LOTX|L-\d{3}-\d\d/g, 'a lot')
      .replace(/CELL|\b\d+-\d+\b(?!")|(?<=[A-Z]\d-)\d+-\d+/g, 'a copy'),
  );

it.each(['PL1', 'MV1', 'HE1', 'DU1', 'CL1'])('%s is read as the recorded one is', async (letters) => {
  const analyst = await service.as({ maker, scopes: ['warranty:read'] });
  const [copy] = await rowsOf<{ name: string }>(
    db,
    `select as_written as name from unit_names where as_written like $1 and as_written not like '%-CELL'`,
    [`K-${letters}-%`],
  );
  for (const path of ['', '/history']) {
    const read = async (name: string) =>
      (await mustGoWell(analyst('GET', `/v1/controls/${maker}/${name}${path}`))).text;
    expect(shape(await read(copy?.name ?? ''))).toEqual(shape(await read(`K-${letters}-CELL`)));
  }
});

it('goes on from there: what is recorded next is judged after what was generated', async () => {
  const [copy] = await rowsOf<{ cell: string }>(
    db,
    `select substr(as_written, 7) as cell from unit_names join facts on facts.id = fact
     where as_written like 'K-PL1-%' and as_written not like '%-CELL'
       and owner in (select owner from unit_names join facts on facts.id = fact where as_written = 'K-PL1-CELL')`,
  );
  const frame = { reference: 'next', performedAt: '2026-11-20T08:00:00Z' };
  const looked = await mustGoWell(shop('POST', '/v1/inspections', inspectionOf(`PL1-${copy?.cell}`, frame)));
  expect(looked.body).toMatchObject({ status: 'released', findings: [] });
  expect(looked.body.receipt.subjects[0]).toMatchObject({ seq: 11, prev: expect.any(String) });
});
