/** Forward from a lot: where its parts are, and what can't be said of them. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);

const convert = async (number: string, to: string, day: string) => {
  const frame = { reference: `${number}-${day}`, performedAt: `2026-${day}T08:00:00Z` };
  return await mustGoWell(brackwater('POST', '/v1/conversions', await conversionOf(brackwater, number, to, frame)));
};
const inspect = async (number: string, day: string, stations: Record<string, unknown>) =>
  await mustGoWell(
    brackwater('POST', '/v1/inspections', {
      control: { maker: 'ardenholm', serial: `K-${number}` },
      reference: `look-${number}-${day}`,
      performedAt: `2026-${day}T08:00:00Z`,
      edition: '2026-1',
      shop: 'north',
      technician: 't-17',
      found: { stations },
    }),
  );
const stillOf = async (number: string, place: string) => {
  const { body } = await mustGoWell(brackwater('GET', '/v1/reach?lot=ardenholm/L-1&first=200'));
  const uses = body.items.filter(
    (one: { name: string; place: string }) => one.name === `K-${number}` && one.place === place,
  );
  return uses.map((one: { still: string }) => one.still);
};

describe('a part of a lot', () => {
  it('is still in when a later look finds it as it was', async () => {
    await registerPair(brackwater, 'looked');
    await convert('looked', 'load-sense', '04-01');
    await inspect('looked', '04-02', { 'bleed-seat': [{ element: 'plug-m5' }] });
    expect(await stillOf('looked', 'bleed-seat')).toEqual(['in']);
  });

  it('is out when something else was found in its place, or put there', async () => {
    await registerPair(brackwater, 'found');
    await convert('found', 'load-sense', '04-01');
    await inspect('found', '04-02', { 'bleed-seat': [{ element: 'orifice-0.8' }] });
    expect(await stillOf('found', 'bleed-seat')).toEqual(['out']);
    await registerPair(brackwater, 'changed');
    await convert('changed', 'load-sense', '04-01');
    await convert('changed', 'load-sense-bled', '05-01');
    expect(await stillOf('changed', 'bleed-seat')).toEqual(['out', 'in']);
  });

  it('is unknown once one of its kind was put in its place: nobody says which piece is which', async () => {
    await registerPair(brackwater, 'again');
    for (const [to, day] of [
      ['load-sense', '04-01'],
      ['load-sense-bled', '05-01'],
      ['load-sense', '06-01'],
    ] as const) {
      await convert('again', to, day);
    }
    expect(await stillOf('again', 'bleed-seat')).toEqual(['unknown', 'out', 'in']);
  });
});

describe('the reach of a lot that nobody has stated', () => {
  it('is not nobody, but no answer', async () => {
    const slip = await tollan('GET', '/v1/reach?lot=ardenholm/L-11');
    expect([slip.status, slip.body.code]).toEqual([404, 'not-found']);
    const stated = await mustGoWell(tollan('GET', '/v1/reach?lot=ardenholm/L-1'));
    expect(stated.body.items).toEqual([]);
  });

  it("is no answer to the maker's people either; of a lot that anybody has stated, and fitted nowhere, it is nobody", async () => {
    const slip = await analyst('GET', '/v1/reach?lot=ardenholm/L-11');
    expect([slip.status, slip.body.code]).toEqual([404, 'not-found']);
    for (const maker of ['ardenholm', 'other-maker']) {
      await mustGoWell(tollan('PUT', `/v1/lots/${maker}/L-12`, { part: 'kit-remote' }));
    }
    expect((await mustGoWell(analyst('GET', '/v1/reach?lot=ardenholm/L-12'))).body.items).toEqual([]);
    // What is stated of other makes is not theirs to know.
    expect((await analyst('GET', '/v1/reach?lot=other-maker/L-12')).status).toBe(404);
  });
});

describe('a job sheet', () => {
  it('names the seals that fit each joint and stand the fluid of the pump', async () => {
    await registerPair(brackwater, 'sealed');
    const { body } = await mustGoWell(
      brackwater('GET', '/v1/controls/ardenholm/K-sealed/job-sheet?function=load-sense'),
    );
    const joint = body.joints.find((one: { joint: string }) => one.joint === 'sense-adjuster-body');
    expect(joint.seals).toEqual([{ seal: 'seal-22', quantity: 1, fitting: ['seal-22-nbr', 'seal-22-fkm'] }]);
  });
});
