/** A service that was killed between a correction and the judging of what follows it: another one finishes that. */
import { expect, it } from 'vitest';
import { judgeLeftOver } from '../../src/app/judging/judge-again.ts';
import { recordAll } from '../../src/app/recording/record-all.ts';
import { correctionBody } from '../../src/core/records/bodies.ts';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { requestOf, testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const { app, ...service } = await testService(db);
const { brackwater } = await openShops({ app, ...service });

it('is finished once, and then nothing is left', async () => {
  await registerPair(brackwater, '1');
  const convert = async (to: string, reference: string, performedAt: string) =>
    (
      await mustGoWell(
        brackwater('POST', '/v1/conversions', await conversionOf(brackwater, '1', to, { reference, performedAt })),
      )
    ).body.id as string;
  const first = await convert('load-sense', 'one', '2026-04-01T08:00:00Z');
  const second = await convert('load-sense-bled', 'two', '2026-05-01T08:00:00Z');
  const sent = { kind: 'void', reason: 'another control' };
  const request = requestOf(
    app,
    { distributor: 'brackwater' },
    { kind: 'correction', record: first, body: correctionBody.parse(sent), sent },
  );
  // Kept, and then nobody was there any more to judge what follows.
  await recordAll({ ...app, pool: app.pools.recording }, [request]);
  const judgedAgain = async () =>
    (await mustGoWell(brackwater('GET', `/v1/records/${second}`))).body.judgedAgain.length as number;
  expect(await judgedAgain()).toBe(0);
  expect(await judgeLeftOver(app, 3600)).toBe(0);
  expect(await judgeLeftOver(app, 0)).toBe(1);
  expect(await judgedAgain()).toBe(1);
  expect(await rowsOf(db, 'select from pending_judgements')).toEqual([]);
  expect(await judgeLeftOver(app, 0)).toBe(0);
  expect(await judgedAgain()).toBe(1);
});
