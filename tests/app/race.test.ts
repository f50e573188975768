/**
 * Two processes recording at one control at the same moment, and what happens when what guards them is taken away: a
 * test that finds nothing wrong with broken sources would prove nothing.
 */
import { describe, expect, it } from 'vitest';
import { type TestDatabase, testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair, type Shops } from '../support/shop.ts';
import { type Patch, patched, root, twoRacers } from '../support/two-racers.ts';

/** A database with two shops. */
async function scene(options: Parameters<typeof testDatabase>[0] = {}): Promise<Scene> {
  const db = await testDatabase(options);
  return { db, shops: await openShops(await testService(db)) };
}
type Scene = { readonly db: TestDatabase; readonly shops: Shops };

const sound = await scene();
const unlocked = await scene();
const uncounted = await scene();
const unguarded = await scene({ verified: false });
const stated = await scene();

const withoutLock: Patch = {
  file: 'store/sql/lock-heads.ts',
  from: 'order by unit_id for update',
  to: 'order by unit_id',
};
/** Rows that were taken meanwhile are left out, and nobody is told. */
const withoutCount: Patch = {
  file: 'app/recording/commit.ts',
  from: 'await insertRows(tx, table, inOrder(table, rows))',
  to: 'rows.length + 0 * (await insertRows(tx, table, inOrder(table, rows)))',
};

/** The records of converting K-1 there and back, each as its job sheet asks, after both were done once. */
async function thereAndBack({ brackwater }: Shops) {
  await registerPair(brackwater, '1');
  const records = [];
  for (const [nth, to] of ['load-sense', 'load-sense-bled'].entries()) {
    const frame = { reference: to, performedAt: `2026-03-20T0${nth}:00:00Z` };
    const { sheet: _, ...record } = await conversionOf(brackwater, '1', to, frame);
    await mustGoWell(brackwater('POST', '/v1/conversions', record));
    records.push(record);
  }
  return records;
}

function recordOf(directions: Awaited<ReturnType<typeof thereAndBack>>, round: number) {
  const record = directions[round % directions.length];
  if (record === undefined) throw new Error('there is no direction');
  return record;
}

const minute = (round: number) => new Date(Date.UTC(2026, 3, 1, 0, round)).toISOString();

/**
 * As many for the sound sources as for those without a guard, the last of which must go wrong within them; two hundred
 * are played through the service itself (tests/acceptance/two-processes).
 */
const rounds = 60;

/** The first round in which not exactly one was kept and the other told how the control is now; null: there is none. */
async function firstWrongRound(sources: string, { db, shops }: Scene): Promise<unknown> {
  const directions = await thereAndBack(shops);
  const race = await twoRacers(sources, db);
  for (let round = 0; round < rounds; round++) {
    const record = recordOf(directions, round);
    const frame = (by: number) => ({ reference: `${round}-${by}`, performedAt: minute(round) });
    const finishes = await race([0, 1].map((by) => ({ ...record, ...frame(by) })));
    const kept = finishes.find((one) => one.status === 201);
    const told = finishes.find((one) => one.status === 409)?.body as { recorded?: { function: string } } | undefined;
    if (kept?.body['status'] !== 'released' || told?.recorded?.function !== record.to.function) {
      return { round, finishes: finishes.map(({ status, body }) => [status, body['status'] ?? body['code']]) };
    }
  }
  return null;
}

describe('two processes that convert one control at the same moment, found by function', () => {
  it(`one is kept each time of ${rounds}, and the other told how the control is now`, async () => {
    expect(await firstWrongRound(root, sound)).toBe(null);
    const [events] = await rowsOf(sound.db, `select count(*)::int as n from unit_events where kind = 'conversion'`);
    expect(events).toMatchObject({ n: 2 * (rounds + 2) });
  }, 60_000);

  it('also without the lock of the heads, because a place in a chain can be taken only once', async () => {
    expect(await firstWrongRound(patched('no-lock', [withoutLock]), unlocked)).toBe(null);
  }, 60_000);

  it('also without counting the rows that went in, because of the lock', async () => {
    expect(await firstWrongRound(patched('no-count', [withoutCount]), uncounted)).toBe(null);
  }, 60_000);

  it('control: without either guard both are kept, and this test sees it', async () => {
    const wrong = await firstWrongRound(patched('no-guard', [withoutLock, withoutCount]), unguarded);
    expect(wrong).toMatchObject({
      finishes: [
        [201, 'released'],
        [201, 'released'],
      ],
    });
  }, 60_000);
});

describe('two processes that convert one control at the same moment, stations stated', () => {
  it('both are kept, and the one that came second is held for what it found', async () => {
    const directions = await thereAndBack(stated.shops);
    const race = await twoRacers(root, stated.db);
    for (let round = 0; round < 30; round++) {
      const record = recordOf(directions, round);
      const stations = { 'bleed-seat': [{ element: round % 2 === 0 ? 'orifice-0.6' : 'plug-m5' }] };
      const finishes = await race(
        [0, 1].map((by) => ({
          ...{ ...record, found: { ...record.found, stations } },
          ...{ reference: `${round}-${by}`, performedAt: minute(round) },
        })),
      );
      const outcome = finishes.map(({ status, body }) => `${status} ${body['status'] ?? JSON.stringify(body)}`);
      expect(outcome.sort()).toEqual(['201 held', '201 released']);
      const found = finishes.find((one) => one.body['status'] === 'held')?.body['findings'] as { severity: string }[];
      expect(found.filter((one) => one.severity === 'hold')).toMatchObject([
        { rule: 'unrecorded-work', pointer: '/found/stations/bleed-seat' },
      ]);
    }
  }, 60_000);
});
