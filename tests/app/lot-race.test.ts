/**
 * Two processes that take the last piece of a lot at the same moment, for work done one after the other; and what happens
 * when what guards the lot is taken away.
 */
import { describe, expect, it } from 'vitest';
import { type TestDatabase, testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, intakeOf, maker, openShops, registerControl } from '../support/shop.ts';
import { type Patch, patched, root, twoRacers } from '../support/two-racers.ts';

type Scene = { readonly db: TestDatabase; readonly shop: Caller };
async function scene(): Promise<Scene> {
  const db = await testDatabase();
  return { db, shop: (await openShops(await testService(db))).brackwater };
}
const sound = await scene();
const unlocked = await scene();

const withoutLock: Patch = {
  file: 'app/recording/load-lots.ts',
  from: "lockStock(tx, 'lot', 'no key update', lots.map(asStock)),",
  to: 'null,',
};
const rounds = 40;

/** The first round in which not exactly the later work is held; null: there is none. */
async function firstWrongRound(sources: string, { db, shop }: Scene): Promise<unknown> {
  await registerControl(shop, 'model', 'load-sense');
  const model = await conversionOf(shop, 'model', 'load-sense-bled', { reference: '', performedAt: '' });
  const race = await twoRacers(sources, db);
  for (let round = 0; round < rounds; round++) {
    const lot = `L-last-${round}`;
    await mustGoWell(shop('PUT', `/v1/lots/${maker}/${lot}`, { part: 'orifice-0.6' }));
    await mustGoWell(shop('POST', `/v1/lots/${maker}/${lot}/intakes`, intakeOf(lot, 1)));
    const names = ['first', 'second'].map((which) => `${round}-${which}`);
    for (const name of names) await registerControl(shop, name, 'load-sense');
    await race(
      names.map((name, nth) => ({
        ...{ ...model, control: { maker, serial: `K-${name}` }, reference: name },
        performedAt: `2026-04-01T0${nth}:00:00Z`,
        fitted: model.fitted.map((one: object) => ({ ...one, lot })),
      })),
    );
    const held = await rowsOf<{ serial: string }>(
      db,
      `select as_written as serial from unit_names join unit_states using (unit_id)
       where status = 'held' and as_written = any ($1) order by as_written`,
      [names.map((name) => `K-${name}`)],
    );
    const serials = held.map((one) => one.serial);
    if (serials.join() !== `K-${round}-second`) return { round, held: serials };
  }
  return null;
}

describe('two processes that take the last piece of a lot at the same moment', () => {
  it(`hold the later work each time of ${rounds}`, async () => {
    expect(await firstWrongRound(root, sound)).toBe(null);
  }, 60_000);

  it('control: without the lock of the lot neither knows of the other, and this test sees it', async () => {
    expect(await firstWrongRound(patched('no-lot-lock', [withoutLock]), unlocked)).toMatchObject({ held: [] });
  }, 60_000);
});
