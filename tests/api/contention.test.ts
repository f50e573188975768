/** What a caller is told when the database is held up, gives up or loses the session, and that nothing half-done stays. */
import { setTimeout as pause } from 'node:timers/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { recordingBatches } from '../../src/app/recording/record-all.ts';
import { testDatabase } from '../support/database.ts';
import { rowCounts, rowsOf, untilWaiting, whileHeld } from '../support/rows.ts';
import { byTheBook, mustGoWell, pumpWith } from '../support/scene.ts';
import { organisations, testService } from '../support/service.ts';
import {
  conversionOf,
  edition,
  inspectionOf,
  intakeOf,
  maker,
  openShops,
  registerControl,
  registerPair,
} from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
const intakes = '/v1/lots/ardenholm/L-1/intakes';
const performedAt = '2026-04-01T08:00:00Z';
const inspect = async (number: string, reference: string) =>
  await brackwater('POST', '/v1/inspections', inspectionOf(number, { reference, performedAt }), reference);
const lockHead = 'select from unit_heads where unit_id = $1 for update';

let control = '';
let pump = '';
beforeAll(async () => {
  await registerPair(brackwater, '1');
  const { body } = await mustGoWell(brackwater('GET', '/v1/controls/ardenholm/K-1'));
  control = body.control.unit;
  pump = body.pump.unit;
});

describe('a recording that meets', () => {
  it('a deadlock begins again by itself and is kept', async () => {
    const [first = '', second = ''] = [control, pump].sort();
    const answer = await whileHeld(db, [[lockHead, [second]]], async ({ run }) => {
      let answered = false;
      const posted = inspect('1', 'deadlock').finally(() => {
        answered = true;
      });
      await untilWaiting(db, 1);
      // It holds the first head and waits for the second. It waited first, so it is the one that the database ends.
      await run(lockHead, [first]);
      await untilWaiting(db, 1);
      expect(answered).toBe(false);
      return { posted };
    });
    expect((await answer.posted).status).toBe(201);
  });

  it('a head that stays locked is answered 503, leaves nothing, and is kept when repeated', async () => {
    const before = await rowCounts(db);
    const busy = await whileHeld(db, [[lockHead, [control]]], async () => await inspect('1', 'locked'));
    expect([busy.status, busy.body.code, busy.headers.get('retry-after')]).toEqual([503, 'busy', '1']);
    expect(busy.text).not.toMatch(/unit_heads|select/i);
    expect(await rowCounts(db)).toEqual(before);
    const again = await inspect('1', 'locked');
    expect([again.status, again.headers.get('idempotency-replayed')]).toEqual([201, null]);
  });

  it('its own key, still claimed by another process, is answered 409 with Retry-After', async () => {
    const claim = `insert into idempotency_keys (owner, client, key, route, fingerprint, fact, status, answer)
      values ($1, 'shop-system', 'elsewhere', 'r', 'f', $1, 201, '{}')`;
    const before = await rowCounts(db);
    const post = async () => await brackwater('POST', intakes, intakeOf('elsewhere'), 'elsewhere');
    const running = await whileHeld(db, [[claim, [organisations.brackwater.id]]], post);
    expect([running.status, running.body.code, running.headers.get('retry-after')]).toEqual([409, 'key-in-use', '1']);
    expect(await rowCounts(db)).toEqual(before);
    expect((await post()).status).toBe(201);
  });

  it('more waiting than batches take is 503 for those who wait too long, and none is lost or kept twice', async () => {
    const references = Array.from({ length: 14 }, (_, nth) => `queue-${nth}`);
    const answers = await whileHeld(db, [[lockHead, [control]]], async ({ commit }) => {
      const posted: ReturnType<typeof inspect>[] = [];
      for (const [nth, reference] of references.entries()) {
        posted.push(inspect('1', reference));
        // Each batch that may be under way has one of them, and the rest finds no room.
        if (nth < recordingBatches.atOnce) await untilWaiting(db, nth + 1);
      }
      await pause(recordingBatches.waitMs + 200);
      await commit();
      return await Promise.all(posted);
    });
    const statuses = answers.map((one) => one.status);
    expect(statuses.filter((one) => one !== 201 && one !== 503)).toEqual([]);
    expect(answers.filter((one) => one.status === 503 && one.headers.get('retry-after') === null)).toEqual([]);
    expect(new Set(statuses)).toEqual(new Set([201, 503]));
    const repeated = await Promise.all(references.map((reference) => inspect('1', reference)));
    expect(repeated.map((one) => one.status)).toEqual(Array(14).fill(201));
    expect(repeated.map((one) => one.headers.get('idempotency-replayed') === 'true')).toEqual(
      statuses.map((one) => one === 201),
    );
  });
});

describe('a session that is ended', () => {
  it.each([
    ['before anything was written', 'idempotency_keys'],
    ['between two tables', 'unit_events'],
    ['before the last table', 'outbox'],
  ])('%s leaves nothing; the same key is then kept once', async (_, table) => {
    await registerPair(brackwater, table);
    const frame = { reference: table, performedAt };
    const body = await conversionOf(brackwater, table, 'load-sense', frame);
    const before = await rowCounts(db);
    const lost = await whileHeld(db, [`lock table ${table} in share mode`], async ({ run }) => {
      const posted = brackwater('POST', '/v1/conversions', body, table);
      const [pid] = await untilWaiting(db, 1);
      await run('select pg_terminate_backend($1)', [pid]);
      return await posted;
    });
    expect([lost.status, lost.body.code]).toEqual([503, 'database-unavailable']);
    expect(await rowCounts(db)).toEqual(before);
    const kept = await brackwater('POST', '/v1/conversions', body, table);
    const again = await brackwater('POST', '/v1/conversions', body, table);
    expect([kept.status, again.status, again.text]).toEqual([201, 201, kept.text]);
    expect(await rowsOf(db, `select from record_references where reference = $1`, [table])).toHaveLength(1);
  });
});

describe('a pump on which a control is mounted between look and lock', () => {
  it('is looked at again: the record is about the control that is then on it', async () => {
    await registerControl(brackwater, 'late', 'load-sense');
    await mustGoWell(brackwater('PUT', '/v1/pumps/ardenholm/P-late', pumpWith(null)));
    const { body } = await mustGoWell(brackwater('GET', '/v1/pumps/ardenholm/P-late'));
    const path = '/v1/controls/ardenholm/K-late/mounting-sheet?pump=ardenholm/P-late';
    const { sheet: _, ...work } = byTheBook((await mustGoWell(brackwater('GET', path))).body);
    const units = { control: { maker, serial: 'K-late' }, pump: { maker, serial: 'P-late' } };
    const mounting = { ...units, on: true, reference: 'mounted', performedAt, ...work };
    const inspection = {
      ...{ pump: units.pump, reference: 'looked', performedAt: '2026-04-02T08:00:00Z', edition },
      ...{ shop: 'north', technician: 't-17', found: { stations: { 'signal-port': [{ element: 'port-fitting' }] } } },
    };
    const { mounted, looked } = await whileHeld(db, [[lockHead, [body.pump.unit]]], async () => {
      const first = brackwater('POST', '/v1/mountings', mounting);
      await untilWaiting(db, 1);
      const second = brackwater('POST', '/v1/inspections', inspection);
      await untilWaiting(db, 2);
      return { mounted: first, looked: second };
    });
    expect((await mounted).status).toBe(201);
    const { status, body: answer } = await looked;
    expect([status, answer.control?.name, answer.pump?.name]).toEqual([201, 'K-late', 'P-late']);
  });
});
