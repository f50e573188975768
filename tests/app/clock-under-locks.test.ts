/** What a record is judged by was recorded before it: its time is read once everything that it is judged by is locked. */
import { expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowsOf, untilWaiting, whileHeld } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, openShops, registerControl } from '../support/shop.ts';

const db = await testDatabase();
const { brackwater } = await openShops(await testService(db));

it.each(['lot', 'instrument'])('a record that waits for its %s is recorded after what it waited for', async (kind) => {
  await registerControl(brackwater, kind, 'load-sense');
  const frame = { reference: kind, performedAt: '2026-06-01T08:00:00Z' };
  const conversion = await conversionOf(brackwater, kind, 'load-sense-bled', frame);
  const { recorded, released } = await whileHeld(
    db,
    [['select from stock_items where kind = $1 for update', [kind]]],
    async () => {
      const recording = brackwater('POST', '/v1/conversions', conversion);
      await untilWaiting(db, 1);
      const [clock] = await rowsOf<{ now: Date }>(db, 'select clock_timestamp() as now');
      return { recorded: recording, released: clock?.now ?? new Date(NaN) };
    },
  );
  const { id } = (await mustGoWell(recorded)).body;
  const [row] = await rowsOf<{ recorded_at: Date }>(db, 'select recorded_at from facts where id = $1', [id]);
  expect((row?.recorded_at ?? new Date(0)).getTime()).toBeGreaterThanOrEqual(released.getTime());
});
