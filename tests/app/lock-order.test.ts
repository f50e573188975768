/** Two batches that want the same rows in opposite order: the database must never have to end one of them. */
import { expect, it } from 'vitest';
import { recordAll } from '../../src/app/recording/record-all.ts';
import { intakeBody } from '../../src/core/records/lot-bodies.ts';
import { closePools, openPools } from '../../src/store/pools.ts';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { requestOf, testService } from '../support/service.ts';
import { intakeOf, openShops } from '../support/shop.ts';
import { withSuperuser } from '../support/test-server.ts';

const db = await testDatabase();
const { app, ...service } = await testService(db);
await openShops({ app, ...service });

/** Each row takes its time, so that two batches at once are sure to meet half-way. */
async function slowDown(tables: readonly string[]): Promise<void> {
  await withSuperuser(db.superuserUrl, async (client) => {
    await client.query(`create function nap() returns trigger language plpgsql as
      $$ begin perform pg_sleep(0.004); return new; end $$`);
    for (const table of tables)
      await client.query(`create trigger nap before insert on ${table} for each row execute function nap()`);
  });
}

function batchOf(names: readonly string[]) {
  return names.flatMap((name) => {
    const sent = intakeOf(name);
    return [
      requestOf(
        app,
        { distributor: 'brackwater' },
        {
          ...{ kind: 'intake', maker: 'ardenholm', number: 'L-1' },
          ...{ body: intakeBody.parse(sent), sent },
        },
      ),
      requestOf(app, { distributor: 'tollan' }, { kind: 'technician', id: name, body: { name }, sent: { name } }),
      requestOf(app, { distributor: 'tollan' }, { kind: 'shop', id: name, body: { name }, sent: { name } }),
    ];
  });
}

it('one waits for the other, and none is ended by the database for a deadlock', async () => {
  await slowDown(['record_references', 'people', 'stock_items']);
  const sessions = async () =>
    (
      await rowsOf(
        db,
        `select from pg_stat_activity where datname = current_database() and usename = 'asfitted_service'`,
      )
    ).length;
  const others = await sessions();
  const pools = openPools({ serviceUrl: db.serviceUrl, onLost: () => {} });
  const recording = { ...app, pool: pools.recording };
  const names = Array.from({ length: 25 }, (_, nth) => `order-${nth}`);
  const outcomes = await Promise.all([
    recordAll(recording, batchOf(names)),
    recordAll(recording, batchOf(names.toReversed())),
  ]);
  expect(outcomes.flat().filter((one) => one.kind === 'failed')).toEqual([]);
  expect(await rowsOf(db, `select from record_references where reference like 'order-%'`)).toHaveLength(25);
  // A session hands its counts in when it ends.
  await closePools(pools);
  while ((await sessions()) > others);
  const [counted] = await rowsOf(db, 'select deadlocks from pg_stat_database where datname = current_database()');
  expect(counted).toEqual({ deadlocks: '0' });
});
