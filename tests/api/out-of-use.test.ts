/** No sheet is given for work on a unit that is retired or scrap. Invented throughout. */
import { expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { inspectionOf, maker, onControl, onPump, openShops, registerControl, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
const lead = await service.as({ distributor: 'brackwater', subject: 'lead' });

const path = (serial: string) => `/v1/${serial.startsWith('P') ? 'pumps' : 'controls'}/${maker}/${serial}`;
const sheetFor = async (serial: string, query = 'job-sheet?function=load-sense') => {
  const { status, body } = await brackwater('GET', `${path(serial)}/${query}`);
  return [status, body.code ?? null, body.detail ?? null];
};
const retire = async (reference: string, unit: object) =>
  await mustGoWell(
    brackwater('POST', '/v1/retirements', {
      ...{ ...unit, reference, performedAt: '2026-04-02T08:00:00Z' },
      ...{ shop: 'north', technician: 't-17', reason: 'worn' },
    }),
  );
const because = (name: string) => `${name} was retired on 2026-04-02T08:00:00.000000Z: it takes no more work.`;

it('a retired control or pump gets no job sheet, by whichever of the two it is asked', async () => {
  await registerPair(brackwater, '1');
  await registerPair(brackwater, '2');
  expect(await sheetFor('K-1')).toEqual([200, null, null]);
  await retire('r-1', onControl('1'));
  for (const serial of ['K-1', 'P-1']) expect(await sheetFor(serial)).toEqual([409, 'no-plan', because('K-1')]);
  await retire('r-2', onPump('2'));
  for (const serial of ['K-2', 'P-2']) expect(await sheetFor(serial)).toEqual([409, 'no-plan', because('P-2')]);
});

it('neither a retired control nor a retired pump gets a mounting sheet', async () => {
  await registerControl(brackwater, '3');
  await registerControl(brackwater, '4');
  for (const serial of ['P-3', 'P-4']) await mustGoWell(brackwater('PUT', path(serial), pumpWith(null)));
  const on = (pump: string) => `mounting-sheet?pump=${maker}/${pump}`;
  expect((await sheetFor('K-3', on('P-3')))[0]).toBe(200);
  await retire('r-3', onControl('3'));
  await retire('r-4', onPump('4'));
  expect(await sheetFor('K-3', on('P-3'))).toEqual([409, 'no-plan', because('K-3')]);
  expect(await sheetFor('K-4', on('P-4'))).toEqual([409, 'no-plan', because('P-4')]);
  expect((await sheetFor('K-4', on('P-3')))[0]).toBe(200);
});

it('what was decided to be scrap gets none until that decision is made void', async () => {
  await registerControl(brackwater, '5');
  const found = { stations: { 'bleed-seat': [{ element: 'plug-m5' }] } };
  const look = { ...inspectionOf('5', { reference: 'i-5', performedAt: '2026-04-01T08:00:00Z' }), found };
  const { id } = (await mustGoWell(brackwater('POST', '/v1/inspections', look))).body;
  const decision = { reference: 'd-5', performedAt: '2026-04-02T08:00:00Z', decision: 'scrap', reason: 'cracked' };
  const decided = (await mustGoWell(lead('POST', `/v1/records/${id}/dispositions`, decision))).body;
  expect(decided.findings).toMatchObject([{ rule: 'scrapped', severity: 'hold' }]);
  const [status, code, detail] = await sheetFor('K-5', 'job-sheet?function=load-sense&size=83&rotation=clockwise');
  expect([status, code, detail]).toEqual([409, 'no-plan', expect.stringContaining('K-5 was decided to be scrap')]);
  const wrong = { kind: 'void', reason: 'the other one' };
  await mustGoWell(brackwater('POST', `/v1/records/${decided.id}/corrections`, wrong));
  expect((await sheetFor('K-5', 'job-sheet?function=load-sense&size=83&rotation=clockwise'))[0]).toBe(200);
});
