/**
 * Two hundred conversions on a lot of 120, recorded by two processes: the acceptance case of this service. Who is held
 * follows from when the work was done, never from when it was recorded.
 */
import { type ChildProcess, fork } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recordAll } from '../../src/app/recording/record-all.ts';
import { controlRegistration } from '../../src/core/records/bodies.ts';
import { testDatabase } from '../support/database.ts';
import type { Done, Load } from '../support/lot-racer.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { seeded } from '../support/seeded.ts';
import { askerOf, requestOf, testService } from '../support/service.ts';
import { controlBody, conversionOf, maker, openShops, registerControl } from '../support/shop.ts';

const [records, inLot, short] = [200, 120, 80];
const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
const folder = mkdtempSync(join(tmpdir(), 'asfitted-lots-'));
const racers: ChildProcess[] = [];

beforeAll(async () => {
  const file = resolve(import.meta.dirname, '../support/lot-racer.ts');
  for (let nth = 0; nth < 2; nth++) racers.push(fork(file, [db.serviceUrl, folder]));
  for (const child of racers) await once(child, 'message');
});
afterAll(() => {
  for (const child of racers) child.disconnect();
  rmSync(folder, { recursive: true });
});

/** Controls on the shelf, and a good record of giving each its bleed, in the order of the work. */
async function conversionsOf(series: string, lot: string) {
  const serials = Array.from({ length: records }, (_, nth) => `${series}-${String(nth).padStart(3, '0')}`);
  const sent = controlBody('load-sense');
  const body = controlRegistration.parse(sent);
  const recording = { ...service.app, pool: service.app.pools.recording };
  const outcomes = await recordAll(
    recording,
    serials.map((serial) =>
      requestOf(
        service.app,
        { distributor: 'brackwater' },
        { kind: 'registration', of: 'control', maker, serial, body, sent },
        { key: null },
      ),
    ),
  );
  expect(new Set(outcomes.map((one) => one.kind))).toEqual(new Set(['kept']));
  await registerControl(brackwater, `model-${series}`, 'load-sense');
  const frame = { reference: '', performedAt: '' };
  const model = await conversionOf(brackwater, `model-${series}`, 'load-sense-bled', frame);
  const fitted = model.fitted.map((one: { element: string }) => ({ ...one, lot }));
  return serials.map((serial, nth) => ({
    ...{ ...model, fitted, control: { maker, serial }, reference: serial },
    performedAt: new Date(Date.UTC(2026, 3, 1, 8, nth)).toISOString(),
  }));
}

/** By both processes at once, each taking every other one. */
async function recordByTwo(all: readonly { readonly reference: string }[], size: number): Promise<void> {
  const asker = askerOf({ distributor: 'brackwater' });
  const dones = await Promise.all(
    racers.map(async (child, by) => {
      const mine = all.filter((_, nth) => nth % racers.length === by);
      const done = once(child, 'message');
      child.send({ asker, scopes: [...asker.scopes], records: mine, size } satisfies Load);
      return (await done)[0] as Done;
    }),
  );
  expect(dones).toEqual(racers.map(() => ({ recorded: records / racers.length, problems: [] })));
}

const heldOf = async (series: string) =>
  (
    await rowsOf<{ serial: string }>(
      db,
      `select as_written as serial from unit_names join unit_states using (unit_id)
       where as_written like $1 and status = 'held' order by as_written`,
      [`${series}-___`],
    )
  ).map((row) => row.serial);

const balanceOf = async (lot: string) => {
  const { shops } = (await mustGoWell(brackwater('GET', `/v1/lots/${maker}/${lot}`))).body;
  return shops.find((one: { shop: string }) => one.shop === 'north').items;
};

const intake = (reference: string, quantity: number) => ({
  ...{ reference, performedAt: '2026-03-01T08:00:00Z', shop: 'north', quantity },
});

type Order<T> = (all: readonly T[]) => T[];
const orders: Record<string, Order<object>> = {
  'in the order of the work': (all) => [...all],
  'the last first': (all) => all.toReversed(),
  shuffled: (all) => {
    const { uniform } = seeded(20_260_401);
    return all
      .map((one) => ({ one, at: uniform() }))
      .sort((a, b) => a.at - b.at)
      .map(({ one }) => one);
  },
};

describe.each([
  [1, 'in the order of the work'],
  [1, 'shuffled'],
  [64, 'the last first'],
  [64, 'shuffled'],
])('two hundred conversions on a lot of 120 by two processes, in batches of %i, arriving %s', (size, order) => {
  const series = `${size}${order.at(0)}${order.length}`;
  const lot = `L-${series}`;

  it('are all recorded, and the last eighty of the work are held', async () => {
    await mustGoWell(brackwater('PUT', `/v1/lots/${maker}/${lot}`, { part: 'orifice-0.6' }));
    await mustGoWell(brackwater('POST', `/v1/lots/${maker}/${lot}/intakes`, intake(`in-${series}`, inLot)));
    const all = await conversionsOf(series, lot);
    const arriving = (orders[order] as Order<(typeof all)[number]>)(all);
    await recordByTwo(arriving, size);
    expect(await heldOf(series)).toEqual(all.slice(inLot).map((one) => one.reference));
    expect(await rowsOf(db, 'select from pending_judgements')).toEqual([]);
  }, 120_000);

  it('show a balance of -80, and as many parts used as there are in the records', async () => {
    const [item] = await balanceOf(lot);
    expect(item).toMatchObject({
      item: 'orifice-0.6',
      takenIn: inLot,
      used: records,
      balance: -short,
      overdrawn: short,
    });
    const [parts] = await rowsOf<{ sum: number }>(
      db,
      `select sum(coalesce((line ->> 'quantity')::int, 1))::int as sum
       from facts, jsonb_array_elements(statement::jsonb -> 'fitted') as line
       where kind = 'conversion' and line ->> 'lot' = $1`,
      [lot],
    );
    expect(parts?.sum).toBe(item.used);
  });

  it('are all free once eighty more have come in, recorded late', async () => {
    const late = await mustGoWell(
      brackwater('POST', `/v1/lots/${maker}/${lot}/intakes`, intake(`late-${series}`, short)),
    );
    expect(await heldOf(series)).toEqual([]);
    expect(await balanceOf(lot)).toMatchObject([{ balance: 0, overdrawn: 0 }]);
    const again = await mustGoWell(brackwater('GET', `/v1/judgements?cause=${late.body.id}&first=200`));
    const changed = again.body.items.map((one: { reference: string; status: object }) => [one.reference, one.status]);
    const freed = Array.from({ length: short }, (_, nth) => `${series}-${inLot + nth}`);
    expect(changed).toEqual(freed.map((reference) => [reference, { was: 'held', is: 'incomplete' }]));
  });
});
