/** Judgements that a release kept which did not say what they changed are listed all the same. Invented throughout. */
import { expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';
import { withSuperuser } from '../support/test-server.ts';

// A fact is changed behind the service's back: the log no longer proves it.
const db = await testDatabase({ verified: false });
const { brackwater } = await openShops(await testService(db));

it('what an earlier judgement does not say is null, and it changed no verdict that is known', async () => {
  await registerPair(brackwater, '1');
  const wrench = { kind: 'torque-wrench', how: 'set', class: 'A' };
  await mustGoWell(brackwater('PUT', '/v1/instruments/tw-3', wrench));
  const frame = { reference: 'work', performedAt: '2026-04-01T08:00:00Z' };
  await mustGoWell(brackwater('POST', '/v1/conversions', await conversionOf(brackwater, '1', 'load-sense', frame)));
  const percent = (value: string) => ({ value, unit: '%' });
  const found = { asFound: percent('-12'), asLeft: percent('-12'), uncertainty: percent('1') };
  const points = [{ at: { value: '60', unit: 'N.m' }, ...found }];
  const calibration = { reference: 'found', performedAt: '2026-03-10T08:00:00Z', document: 'certificate', points };
  const stated = await mustGoWell(brackwater('POST', '/v1/instruments/tw-3/calibrations', calibration));
  const list = async () => (await mustGoWell(brackwater('GET', `/v1/judgements?cause=${stated.body.id}`))).body.items;
  const [now] = await list();
  expect([now.status.was, now.verdicts.length > 0]).toEqual(['released', true]);
  await withSuperuser(db.superuserUrl, async (client) => {
    await client.query('set session_replication_role = replica');
    await client.query(
      `update facts set judgement = (judgement::jsonb - 'was' - 'status' - 'changes')::text where id = $1`,
      [now.id],
    );
  });
  expect(await rowsOf(db, `select from facts where id = $1 and judgement like '%"changes"%'`, [now.id])).toEqual([]);
  expect(await list()).toEqual([{ ...now, status: { was: null, is: null }, verdicts: [] }]);
});

it('verdicts of a release that reckoned no uncertainty are read by REST as they are, and by GraphQL with nulls', async () => {
  await registerPair(brackwater, '2');
  const frame = { reference: 'older', performedAt: '2026-04-01T08:00:00Z' };
  const work = await mustGoWell(
    brackwater('POST', '/v1/conversions', await conversionOf(brackwater, '2', 'load-sense', frame)),
  );
  const { id } = work.body;
  const read = async () => (await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body.judgement;
  const kept = ['pointer', 'of', 'place', 'reading', 'min', 'max', 'rule', 'verdict', 'instrument'];
  const now = await read();
  const verdicts = now.verdicts.map((one: object) =>
    Object.fromEntries(Object.entries(one).filter(([name]) => kept.includes(name))),
  );
  await withSuperuser(db.superuserUrl, async (client) => {
    await client.query('set session_replication_role = replica');
    await client.query('update facts set judgement = $2 where id = $1', [id, JSON.stringify({ ...now, verdicts })]);
  });
  expect((await read()).verdicts).toEqual(verdicts);
  const query = `{ record(id: "${id}") { torques { verdicts { rule verdict min { from } estimate { value } probability
    fitness { fit } linear { verdict } calibration } } } }`;
  const answer = await mustGoWell(brackwater('POST', '/graphql', { query }, null));
  expect(answer.body.data.record.torques[0].verdicts).toEqual([
    {
      ...{ rule: 'simple', verdict: 'outside', min: { from: null } },
      ...{ estimate: null, probability: null, fitness: null, linear: null, calibration: null },
    },
  ]);
});
