/** What is said of lots, and what is in them: withdrawn, aged, or inside kits. What is asked of lots is common practice, no published source. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { holding, lotWork } from '../support/lot-work.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { maker, openShops } from '../support/shop.ts';
import { usesReached } from '../support/uses-reached.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
const hour = (number: string) => Number(number);
const at = (day: string, time: string) => `2026-${day}T${time}:00Z`;
const stateLot = async (number: string, body: object) =>
  await mustGoWell(brackwater('PUT', `/v1/lots/${maker}/${number}`, body));

describe('a lot that is stated anew', () => {
  it('as withdrawn holds what was used of it since, also in kits; stated as sound again it holds it no more', async () => {
    const { convert, statusOf } = await lotWork(brackwater, 'drawn', hour);
    const components = [{ element: 'orifice-0.6', lot: { maker: 'tollan', number: 'PIECES' } }];
    const pieces = async (body: object) =>
      await mustGoWell(brackwater('PUT', '/v1/lots/tollan/PIECES', { part: 'orifice-0.6', ...body }));
    await pieces({});
    await stateLot('HOLDS', { part: 'kit-bleed', components });
    await convert('1', 'HOLDS');
    await convert('9', 'HOLDS');
    await convert('10', { maker: 'tollan', number: 'PIECES' });
    const statuses = async () => [await statusOf('1'), await statusOf('9'), await statusOf('10')];
    await pieces({ withdrawn: { from: at('04-01', '05:00'), why: 'bore out of round' } });
    expect(await statuses()).toEqual(['incomplete', 'held', 'held']);
    expect(holding(await convert('11', 'HOLDS'))).toEqual(['lot-withdrawn']);
    await pieces({});
    expect(await statuses()).toEqual(['incomplete', 'incomplete', 'incomplete']);
  });

  it('as older than its seals keep holds them', async () => {
    const { convert, statusOf, bleed } = await lotWork(brackwater, 'aged', hour);
    await stateLot('AGED', { part: 'seal-22-nbr', madeAt: { at: '2020-05-01T00:00:00Z', precision: 'month' } });
    const { seals } = (await bleed('0', 'L-1')) as { seals: object[] };
    await convert('1', 'L-1', { seals: seals.map((one) => ({ ...one, lot: 'AGED' })) });
    expect(await statusOf('1')).toBe('incomplete');
    await stateLot('AGED', { part: 'seal-22-nbr', madeAt: { at: '2019-03-01T00:00:00Z', precision: 'month' } });
    expect(await statusOf('1')).toBe('held');
  });
});

describe('pieces that are in kits', () => {
  it('are reached through the lots of those kits, and by no other item of them', async () => {
    const { convert } = await lotWork(brackwater, 'within', hour);
    await mustGoWell(brackwater('PUT', '/v1/lots/tollan/WITHIN', { part: 'orifice-0.6' }));
    const components = [{ element: 'orifice-0.6', lot: { maker: 'tollan', number: 'WITHIN' } }];
    await stateLot('OUTER', { part: 'kit-bleed', components });
    const seal = { joint: 'sense-adjuster-body', seal: 'seal-22-fkm', lot: 'OUTER' };
    await convert('1', 'OUTER', { seals: [seal] });
    await convert('2', { maker: 'tollan', number: 'WITHIN' });
    const said = (body: { items: Parameters<typeof usesReached>[0] }) =>
      usesReached(body.items).map((one) => [one.name, one.item, one.through]);
    const reached = [
      ['K-within-1', 'orifice-0.6', 'ardenholm/OUTER'],
      ['K-within-2', 'orifice-0.6', null],
    ];
    for (const caller of [brackwater, analyst]) {
      const { body } = await mustGoWell(caller('GET', '/v1/reach?lot=tollan/WITHIN'));
      expect(said(body)).toEqual(reached);
    }
    expect((await tollan('GET', '/v1/reach?lot=tollan/WITHIN')).status).toBe(404);
    const query = `{ lot(maker: "tollan", number: "WITHIN") { uses { edges { node { item unit { name } through { number } } } } } }`;
    const { body } = await mustGoWell(brackwater('POST', '/graphql', { query }, null));
    expect(body.data.lot.uses.edges.map((one: { node: object }) => one.node)).toEqual([
      { item: 'orifice-0.6', unit: { name: 'K-within-1' }, through: { number: 'OUTER' } },
      { item: 'orifice-0.6', unit: { name: 'K-within-2' }, through: null },
    ]);
    // Stated without them, the kits hold nothing of it any more.
    await stateLot('OUTER', { part: 'kit-bleed' });
    expect(said((await mustGoWell(brackwater('GET', '/v1/reach?lot=tollan/WITHIN'))).body)).toEqual(reached.slice(1));
  });
});
