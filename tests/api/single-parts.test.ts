/** Parts that are told apart: by a serial of their own, or by the unit that they came out of. */
import { describe, expect, it } from 'vitest';
import { recordAll } from '../../src/app/recording/record-all.ts';
import { conversionBody } from '../../src/core/records/bodies.ts';
import { testDatabase } from '../support/database.ts';
import { holding, lotWork } from '../support/lot-work.ts';
import { mustGoWell } from '../support/scene.ts';
import { requestOf, testService } from '../support/service.ts';
import { conversionOf, maker, openShops } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const hour = (number: string) => Number(number);

const fittedWith = (record: Record<string, unknown>, more: object) => ({
  ...record,
  fitted: (record['fitted'] as object[]).map((one) => ({ ...one, ...more })),
});
const post = async (body: object, shop = brackwater) => (await mustGoWell(shop('POST', '/v1/conversions', body))).body;

/** Takes the bleed out of K-series-number again, and leaves it unbled. */
async function unbleed(name: string, performedAt: string, more: object = {}) {
  const frame = { reference: `${name}-out`, performedAt };
  return { ...(await conversionOf(brackwater, name, 'load-sense', frame)), ...more };
}

describe('a part with a serial', () => {
  it('that is in one unit is not in another, until it came out of the first', async () => {
    const { bleed } = await lotWork(brackwater, 'one', hour);
    const with81 = async (number: string) => fittedWith(await bleed(number, 'L-1'), { serial: ' s-81 ' });
    expect(holding(await post(await with81('5')))).toEqual([]);
    const twice = await post(fittedWith(await bleed('7', 'L-1'), { serial: 'S-81' }));
    expect(twice.findings.find((one: { rule: string }) => one.rule === 'serial-twice')).toMatchObject({
      pointer: '/fitted/0/serial',
      because: 'By your records S-81 was at the same time at bleed-seat of K-one-5.',
    });
    // Work that was done before it went in there, and that the records don't have the end of, collides as well.
    expect(holding(await post(await with81('3')))).toEqual(['serial-twice']);
    for (const number of ['7', '3']) await post(await unbleed(`one-${number}`, '2026-04-01T12:00:00Z'));
    await post(await unbleed('one-5', '2026-04-01T13:00:00Z'));
    expect(holding(await post(await with81('14')))).toEqual([]);
    const { body: own } = await mustGoWell(brackwater('GET', `/v1/controls/${maker}/K-one-14`));
    expect(own.control.findings.filter((one: { rule: string }) => one.rule === 'serial-twice')).toEqual([]);
  });

  it('may go back into the unit that it was taken out of, by the same record', async () => {
    const { bleed } = await lotWork(brackwater, 'back', hour);
    await post(fittedWith(await bleed('5', 'L-1'), { serial: 'S-82' }));
    await post(await unbleed('back-5', '2026-04-01T06:00:00Z'));
    const frame = { reference: 'back-5-again', performedAt: '2026-04-01T07:00:00Z' };
    const again = await conversionOf(brackwater, 'back-5', 'load-sense-bled', frame);
    expect(holding(await post(fittedWith(again, { serial: 'S-82' })))).toEqual([]);
    const station = [{ station: 'bleed-seat', element: 'orifice-0.6' }];
    const reseated = await mustGoWell(
      brackwater('POST', '/v1/repairs', {
        ...{ control: { maker, serial: 'K-back-5' }, reference: 'reseated', performedAt: '2026-04-01T08:00:00Z' },
        ...{ edition: '2026-1', shop: 'north', technician: 't-17', removed: station, seals: again.seals },
        ...{ fitted: station.map((one) => ({ ...one, lot: 'L-1', serial: 'S-82' })), torques: again.torques },
      }),
    );
    expect(holding(reseated.body)).not.toContain('serial-twice');
  });

  it('counts among the records of one batch, of each distributor for itself, and by maker', async () => {
    const requests = [];
    for (const [distributor, shop] of [
      ['brackwater', brackwater],
      ['tollan', tollan],
    ] as const) {
      const { bleed } = await lotWork(shop, `batch-${distributor}`, hour);
      const supplied = { maker: 'tollan', number: 'SUPPLIED' };
      await mustGoWell(shop('PUT', '/v1/lots/tollan/SUPPLIED', { part: 'orifice-0.6' }));
      const parts = [{ serial: 'S-83' }, { serial: 'S-83', lot: supplied }, { serial: 's-83' }];
      for (const [nth, part] of parts.entries()) {
        if (distributor === 'tollan' && nth === 2) continue;
        const sent = fittedWith(await bleed(String(nth), 'L-1'), part);
        const asked = { kind: 'conversion' as const, body: conversionBody.parse(sent), sent };
        requests.push(requestOf(service.app, { distributor }, asked));
      }
    }
    const outcomes = await recordAll({ ...service.app, pool: service.app.pools.recording }, requests);
    const held = outcomes.map((one) => (one.kind === 'kept' ? holding(JSON.parse(one.answer)) : [JSON.stringify(one)]));
    expect(held).toEqual([[], [], ['serial-twice'], [], []]);
  });

  it('is one piece', async () => {
    const { bleed } = await lotWork(brackwater, 'two', hour);
    const sent = fittedWith(await bleed('5', 'L-1'), { serial: 'S-84', quantity: 2 });
    const answer = await brackwater('POST', '/v1/conversions', sent);
    expect([answer.status, answer.body.errors[0].pointer]).toEqual([400, '/fitted/0/quantity']);
  });

  it('that is fitted twice by one record is found', async () => {
    const { bleed } = await lotWork(brackwater, 'both', hour);
    const sent = await bleed('5', 'L-1');
    const [line] = sent['fitted'] as object[];
    const second = { ...line, station: 'vent-seat', element: 'plug-m5', serial: 'S-85' };
    const answer = await brackwater('POST', '/v1/conversions?check=only', {
      ...fittedWith(sent, { serial: 'S-85' }),
      ...{ to: null, fitted: [{ ...line, serial: 'S-85' }, second] },
    });
    const found = answer.body.findings.filter((one: { rule: string }) => one.rule === 'serial-twice');
    expect(found).toMatchObject([{ pointer: '/fitted/1/serial' }]);
  });
});

describe('a part that was taken out', () => {
  const restock = (body: object) =>
    brackwater('POST', '/v1/restockings', {
      ...{ reference: `rs-${Math.random()}`, performedAt: '2026-04-02T08:00:00Z', shop: 'north' },
      ...{ station: 'bleed-seat', element: 'orifice-0.6', ...body },
    });

  it('goes back into the lot that the records say it is from, once, and is drawn on again', async () => {
    const { convert, statusOf } = await lotWork(brackwater, 'again', hour);
    await mustGoWell(brackwater('PUT', `/v1/lots/${maker}/AGAIN`, { part: 'orifice-0.6' }));
    const intake = { reference: 'again', performedAt: '2026-03-01T08:00:00Z', shop: 'north', quantity: 1 };
    await mustGoWell(brackwater('POST', `/v1/lots/${maker}/AGAIN/intakes`, intake));
    await convert('5', 'AGAIN');
    const out = await post(await unbleed('again-5', '2026-04-01T06:00:00Z'));
    await convert('7', 'AGAIN');
    expect(await statusOf('7')).toBe('held');
    const back = await mustGoWell(restock({ record: out.id, location: 'drawer 2' }));
    expect(back.body).toMatchObject({ lot: { maker, number: 'AGAIN' }, quantity: 1 });
    expect(await statusOf('7')).toBe('incomplete');
    const { shops } = (await mustGoWell(brackwater('GET', `/v1/lots/${maker}/AGAIN`))).body;
    expect(shops).toMatchObject([{ items: [{ takenIn: 1, restocked: 1, used: 2, balance: 0 }] }]);
    const { items } = (await mustGoWell(brackwater('GET', `/v1/lots/${maker}/AGAIN/moves`))).body;
    expect(items.at(-1)).toMatchObject({ what: 'restocking', origin: { record: out.id, station: 'bleed-seat' } });

    const twice = await restock({ record: out.id });
    expect([twice.status, twice.body.findings[0].pointer]).toEqual([409, '/quantity']);
    expect(twice.body.findings[0].because).toContain('and 1 of it is back in stock');
    const other = await restock({ record: out.id, lot: { maker, number: 'L-1' } });
    expect(other.status).toBe(409);
  });

  it('keeps the lot that is stated where the records say none, or none at all', async () => {
    const { bleed } = await lotWork(brackwater, 'lotless', hour);
    await mustGoWell(brackwater('PUT', `/v1/lots/${maker}/STATED`, { part: 'orifice-0.6' }));
    for (const [number, lot] of [
      ['5', { maker, number: 'STATED' }],
      ['6', undefined],
    ] as const) {
      await post(fittedWith(await bleed(number, null), { lot: { unknown: 'from the drawer' } }));
      const out = await post(await unbleed(`lotless-${number}`, '2026-04-01T09:00:00Z'));
      const { body } = await mustGoWell(restock({ record: out.id, ...(lot && { lot }) }));
      expect(body.lot).toEqual(lot ?? null);
    }
  });

  it.each([
    ['another station', { station: 'vent-seat' }, '/quantity'],
    ['more than came out', { quantity: 2 }, '/quantity'],
    ['a shop that is not known', { shop: 'nowhere' }, '/shop'],
    ['a lot that is not known', { lot: { maker, number: 'NOBODY' } }, '/lot'],
    ['a record that is not there', { record: '0195956e-6c4d-7a31-8a51-3c1d5b0e2f11' }, '/record'],
    ['a time to come', { performedAt: '2999-01-01T00:00:00Z' }, '/performedAt'],
  ])('is not of %s', async (what, body, pointer) => {
    const series = `not-${what.replaceAll(' ', '-')}`;
    const { convert } = await lotWork(brackwater, series, hour);
    await convert('5', 'L-1');
    const out = await post(await unbleed(`${series}-5`, '2026-04-01T06:00:00Z'));
    const answer = await restock({ record: out.id, ...body });
    expect([answer.status, answer.body.findings[0].pointer]).toEqual([409, pointer]);
  });

  it("is not of another's record, nor of one that counts no more, but of what stands in its place", async () => {
    const { convert } = await lotWork(brackwater, 'voided', hour);
    await convert('5', 'L-1');
    const body = await unbleed('voided-5', '2026-04-01T06:00:00Z');
    const out = await post(body);
    const theirs = await tollan('POST', '/v1/restockings', {
      ...{ reference: 'theirs', performedAt: '2026-04-02T08:00:00Z', shop: 'north', record: out.id },
      ...{ station: 'bleed-seat', element: 'orifice-0.6' },
    });
    expect([theirs.status, theirs.body.findings[0].pointer]).toEqual([409, '/record']);
    const corrected = await mustGoWell(
      brackwater('POST', `/v1/records/${out.id}/corrections`, { kind: 'conversion', reason: 'time', body }),
    );
    const answer = await restock({ record: out.id });
    expect([answer.status, answer.body.findings[0].pointer]).toEqual([409, '/record']);
    expect((await mustGoWell(restock({ record: corrected.body.id }))).body.lot).toEqual({ maker, number: 'L-1' });
  });
});
