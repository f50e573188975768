/** Forward from a lot: where its parts are, and what can't be said of them. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';
import { usesReached } from '../support/uses-reached.ts';

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
  const uses = usesReached(body.items).filter((one) => one.name === `K-${number}` && one.place === place);
  return uses.map((one) => one.still);
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

describe('a unit that was reached', () => {
  it('tells what was done to it after the last record that matches, how it stands, where it sits and who has it', async () => {
    await registerPair(brackwater, 'told');
    await convert('told', 'load-sense', '04-01');
    const [element, shop] = ['plug-m5', 'north'];
    const itemOf = async (caller: typeof brackwater, query: string) => {
      const { items } = (await mustGoWell(caller('GET', `/v1/reach?${query}&first=200`))).body;
      return items.find((one: { name: string }) => one.name === 'K-told');
    };
    const since = async (caller: typeof brackwater, query: string) =>
      (await itemOf(caller, query)).doneSince.map((one: { kind: string }) => one.kind);
    const lot = 'lot=ardenholm/L-1';
    expect(await itemOf(brackwater, lot)).toMatchObject({
      ...{
        kind: 'control',
        still: 'now',
        doneSince: [],
        status: 'released',
        mounted: { name: 'P-told' },
        holder: null,
      },
      records: [
        {
          kind: 'conversion',
          uses: [
            { lot: 'ardenholm/L-1', through: null },
            { role: 'seal', still: 'unknown' },
          ],
        },
      ],
    });
    await mustGoWell(
      brackwater('POST', '/v1/movements', {
        ...{
          what: 'received',
          pump: { maker: 'ardenholm', serial: 'P-told' },
          reference: 'told-in',
          shop,
          from: 'a mill',
        },
        ...{ performedAt: '2026-04-03T08:00:00Z', technician: 't-17' },
      }),
    );
    await inspect('told', '04-05', { 'bleed-seat': [{ element: 'orifice-0.8' }] });
    const holder = { distributor: 'brackwater', shop, since: '2026-04-03T08:00:00.000000Z' };
    for (const caller of [brackwater, analyst]) {
      // Of its seal nobody says whether it is still in.
      expect(await itemOf(caller, lot)).toMatchObject({ still: 'unknown', status: 'held', holder });
      expect(await itemOf(caller, `${lot}&element=${element}`)).toMatchObject({ still: 'once' });
      expect(await since(caller, lot)).toEqual(['movement', 'inspection']);
      expect(await since(caller, `element=${element}`)).toEqual(['movement', 'inspection']);
      // By an inspection alone, which put nothing in.
      expect(await itemOf(caller, 'element=orifice-0.8')).toMatchObject({
        still: 'now',
        records: [{ kind: 'inspection', uses: [{ place: 'bleed-seat', item: 'orifice-0.8', lot: null, still: 'in' }] }],
      });
    }
  });

  it('tells another distributor neither that it was moved nor who has it', async () => {
    await registerPair(brackwater, 'seen');
    const frame = (reference: string, day: string) => ({
      ...{ reference, performedAt: `2026-${day}T08:00:00Z`, edition: '2026-1', shop: 'north', technician: 't-17' },
      pump: { maker: 'ardenholm', serial: 'P-seen' },
    });
    const look = { found: { stations: { 'test-port': [{ element: 'test-coupling' }] } } };
    await mustGoWell(tollan('POST', '/v1/inspections', { ...frame('seen', '04-01'), ...look }));
    const { edition: _, ...moved } = frame('seen-in', '04-02');
    await mustGoWell(brackwater('POST', '/v1/movements', { ...moved, what: 'received', from: 'a mill' }));
    await mustGoWell(brackwater('POST', '/v1/inspections', { ...frame('seen-2', '04-03'), ...look }));
    const reached = async () => {
      const { items } = (await mustGoWell(tollan('GET', '/v1/reach?shop=north&first=200'))).body;
      return items.filter((one: { name: string }) => one.name === 'K-seen');
    };
    const item = { holder: null, records: [{ kind: 'inspection' }], doneSince: [{ kind: 'inspection' }] };
    expect(await reached()).toMatchObject([item]);
    // Nor that it was not moved after all, before what tollan did.
    const { edition: __, ...early } = { ...frame('seen-early', '03-30'), what: 'received', from: 'a mill' };
    const { id } = (await mustGoWell(brackwater('POST', '/v1/movements', early))).body;
    const voided = { kind: 'void', reason: 'of another pump' };
    await mustGoWell(brackwater('POST', `/v1/records/${id}/corrections`, voided));
    expect((await reached())[0].doneSince).toEqual([expect.objectContaining({ kind: 'inspection' })]);
  });

  it('tells of work that was put after the record, though it ended before', async () => {
    await registerPair(brackwater, 'after');
    const frame = { reference: 'after', performedAt: '2026-04-01T06:00:00Z' };
    const sheet = await conversionOf(brackwater, 'after', 'load-sense', frame);
    const body = { ...sheet, performedAt: { at: '2026-04-01T06:00:00Z', precision: 'day' } };
    const { id } = (await mustGoWell(brackwater('POST', '/v1/conversions', body))).body;
    const look = { reference: 'after-2', performedAt: '2026-04-01T08:00:00Z', edition: '2026-1', shop: 'north' };
    await mustGoWell(
      brackwater('POST', '/v1/inspections', {
        ...{ ...look, technician: 't-17', control: { maker: 'ardenholm', serial: 'K-after' }, after: id },
        found: { stations: { 'bleed-seat': [{ element: 'plug-m5' }] } },
      }),
    );
    const { items } = (await mustGoWell(brackwater('GET', '/v1/reach?lot=ardenholm/L-1&first=200'))).body;
    const own = items.filter((one: { name: string }) => one.name === 'K-after');
    expect(own).toMatchObject([{ doneSince: [{ kind: 'inspection' }] }]);
  });

  it('stands as a record left it until all that the record did was changed', async () => {
    await registerPair(brackwater, 'stands');
    const found = { 'bleed-seat': [{ element: 'orifice-0.8' }] };
    await inspect('stands', '04-02', found);
    const stillOf = async () => {
      const query = `shop=north&from=2026-04-02T07:00:00Z&to=2026-04-02T09:00:00Z&first=200`;
      const { items } = (await mustGoWell(brackwater('GET', `/v1/reach?${query}`))).body;
      return items.find((one: { name: string }) => one.name === 'K-stands').still;
    };
    expect(await stillOf()).toBe('now');
    await inspect('stands', '04-04', { 'bleed-seat': [{ element: 'orifice-0.6' }] });
    expect(await stillOf()).toBe('once');
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
