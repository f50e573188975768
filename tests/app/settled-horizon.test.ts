/**
 * What is answered as settled must stay so. tests/acceptance/known.test.ts asks while a recording is on its way; here
 * the question itself is held up, and asked with the horizon gone by.
 */
import { setTimeout as pause } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { recordingTimeouts } from '../../src/app/recording/record-all.ts';
import { addMicroseconds } from '../../src/core/time/instant.ts';
import { testDatabase } from '../support/database.ts';
import { rowsOf, untilWaiting, whileHeld } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { inspectionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
await registerPair(brackwater, '1');
const path = '/v1/controls/ardenholm/K-1/history';
const historyOf = async (query = '') => (await mustGoWell(brackwater('GET', `${path}${query}`))).body;
const inspect = async (reference: string, performedAt: string) =>
  (await mustGoWell(brackwater('POST', '/v1/inspections', inspectionOf('1', { reference, performedAt })))).body;
const clock = async () => {
  const sql = `select to_char(clock_timestamp() at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"') as now`;
  const [row] = await rowsOf<{ now: string }>(db, sql);
  return row?.now ?? '';
};

describe('the settled horizon', () => {
  it('is counted from when the question was asked, not from when the database came round to it', async () => {
    const { answered, released } = await whileHeld(
      db,
      ['lock table unit_events in access exclusive mode'],
      async () => {
        const asking = historyOf();
        await untilWaiting(db, 1);
        return { answered: asking, released: await clock() };
      },
    );
    const longest = (recordingTimeouts.transactionMs + 1_000) * 1_000;
    expect((await answered).horizon < addMicroseconds(released, -longest)).toBe(true);
  });

  it('a known before it gives one answer for ever, whatever is recorded afterwards about the time before', async () => {
    await inspect('first', '2026-04-10T08:00:00Z');
    const known = await clock();
    await pause(recordingTimeouts.transactionMs + 1_100);
    const questions = [`?known=${known}`, `?known=${known}&performed=2026-04-05T00:00:00Z`];
    const ask = async () =>
      await Promise.all(questions.map(async (query) => ({ ...(await historyOf(query)), horizon: null })));
    const before = await ask();
    expect(before).toMatchObject([
      { settled: true, known, items: [{ kind: 'registration' }, { kind: 'inspection' }] },
      { settled: true, known, items: [{ kind: 'registration' }] },
    ]);
    await inspect('late', '2026-04-01T08:00:00Z');
    expect(await ask()).toEqual(before);
    expect((await historyOf()).items).toHaveLength(3);
  });

  it('a known after it is answered at the horizon, which the answer names; without known nothing is settled', async () => {
    const ahead = await historyOf('?known=2999-01-01T00:00:00Z');
    expect([ahead.settled, ahead.known]).toEqual([true, ahead.horizon]);
    expect(ahead.items.map((one: { recordedAt: string }) => one.recordedAt > ahead.horizon)).not.toContain(true);
    expect(await historyOf()).toMatchObject({ settled: false, known: null });
  });
});
