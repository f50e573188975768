/**
 * The few units whose rows a generated history repeats, recorded through the service. Tokens stand where each copy has its
 * own: CELL the number of the copy, LOTX that of its lot. What all units of a distributor share is of 2025, so that only
 * times of 2026 are moved.
 */

import type { Caller } from '../../support/over-http.ts';
import { byTheBook, mustGoWell, pumpWith } from '../../support/scene.ts';
import { edition, intakeOf, maker } from '../../support/shop.ts';

/** What is recorded for one copy of each. `pairs`: of a pump and a control. */
export type TemplateName = 'stock' | 'lot' | 'plain' | 'moved' | 'held' | 'due' | 'late' | 'claimed';

/** Of 20 pairs: 19 cells, since `moved` has two, with 200 records. */
export const cellsOfBlock: readonly TemplateName[] = [
  ...Array<TemplateName>(14).fill('plain'),
  ...(['moved', 'held', 'due', 'late', 'claimed'] as const),
];
export const pairsOfBlock = 20;
export const recordsOfBlock = 200;

export async function recordTemplates(
  shop: Caller,
  keep: (name: TemplateName, work: () => Promise<void>) => Promise<void>,
): Promise<void> {
  await keep('stock', () => stock(shop));
  await keep('lot', () => lot(shop));
  await keep('plain', () => plain(shop, 'PL'));
  await keep('moved', () => moved(shop));
  await keep('held', () => held(shop));
  await keep('due', () => due(shop));
  await keep('late', () => late(shop));
  await keep('claimed', () => claimed(shop));
}

async function stock(shop: Caller): Promise<void> {
  await mustGoWell(shop('PUT', '/v1/shops/north', { name: 'north yard' }));
  await mustGoWell(shop('PUT', '/v1/technicians/t-17', { name: 'A. Example', subject: 'fitter-17' }));
  await mustGoWell(shop('PUT', '/v1/instruments/tw-3', { kind: 'torque-wrench', how: 'set' }));
  await mustGoWell(shop('PUT', '/v1/instruments/pg-1', { kind: 'gauge' }));
}

async function lot(shop: Caller): Promise<void> {
  await mustGoWell(shop('PUT', `/v1/lots/${maker}/LOTX`, { part: 'bought-loose' }));
  const intake = { ...intakeOf('in-LOTX', 1_000_000), performedAt: '2025-06-01T08:00:00Z' };
  await mustGoWell(shop('POST', `/v1/lots/${maker}/LOTX/intakes`, intake));
}

/** One pump and one control, or the two of `moved`, by the letters that their names and references have. */
function cell(shop: Caller, letters: string) {
  let last = 0;
  const reference = () => `R-${letters}-CELL-${String(++last).padStart(2, '0')}`;
  const control = (nth = 1) => ({ control: { maker, serial: `K-${letters}${nth}-CELL` } });
  const pump = (nth = 1) => ({ pump: { maker, serial: `P-${letters}${nth}-CELL` } });
  const frame = (day: string) => ({
    ...{ reference: reference(), performedAt: `2026-${day}T08:00:00Z`, shop: 'north', technician: 't-17' },
  });
  const post = async (kind: string, body: object) =>
    (await mustGoWell(shop('POST', `/v1/${kind}`, body))).body as { id: string; status: string };
  const work = async (kind: string, body: object, day: string) => await post(kind, { edition, ...frame(day), ...body });
  const sheet = async (path: string) =>
    (await mustGoWell(shop('GET', `/v1/controls/${maker}/${path}`))).body as { from: { function: string } };
  const lotted = (body: ReturnType<typeof byTheBook>) => ({
    ...body,
    ...{ fitted: body.fitted.map((one: object) => ({ ...one, lot: 'LOTX' })) },
    ...{ seals: body.seals.map((one: object) => ({ ...one, lot: 'LOTX' })) },
  });
  return {
    ...{ control, pump, frame, post, work },
    /** A pump with its control, seen in stock. */
    register: async (nth: number, day: string) => {
      const body = pumpWith({ serial: control(nth).control.serial, function: 'load-sense-bled' });
      const path = `/v1/pumps/${maker}/${pump(nth).pump.serial}`;
      await mustGoWell(shop('PUT', path, { ...body, performedAt: `2026-${day}T08:00:00Z` }));
    },
    conversion: async (to: string, day: string, nth = 1) => {
      const asked = await sheet(`${control(nth).control.serial}/job-sheet?function=${to}`);
      const found = { function: asked.from.function };
      return { ...control(nth), ...lotted(byTheBook(asked)), ...frame(day), found, to: { function: to } };
    },
    mounting: async (nth: number, on: number, day: string) => {
      const name = `${maker}/${pump(on).pump.serial}`;
      const asked = await sheet(`${control(nth).control.serial}/mounting-sheet?pump=${name}`);
      const { sheet: _, ...body } = lotted(byTheBook(asked));
      await post('mountings', { ...body, ...control(nth), ...pump(on), ...frame(day), on: true });
    },
    move: async (what: 'received' | 'delivered', nth: number, day: string) => {
      const end = what === 'received' ? { from: 'Harbour Works' } : { to: 'Harbour Works' };
      await post('movements', { what, ...pump(nth), ...frame(day), ...end });
    },
    look: async (day: string, element = 'port-fitting', nth = 1) =>
      await work('inspections', { ...control(nth), found: { stations: { 'signal-port': [{ element }] } } }, day),
    adjust: async (day: string, value = '210', nth = 1) => {
      const settings = [{ setting: 'pressure-limit', reading: { value, unit: 'bar' }, instrument: 'pg-1' }];
      const reading = { value: '21.0', unit: 'N.m' };
      const torques = [{ joint: 'pressure-adjuster-locknut', how: 'set', reading, instrument: 'tw-3' }];
      const checks = ['make-safe', 'leak-free'].map((check) => ({ check, result: 'passed' }));
      return await work('adjustments', { ...control(nth), settings, torques, checks }, day);
    },
    startUp: async (nth: number, day: string) =>
      await post('start-ups', { ...pump(nth), ...frame(day), machine: 'press 4' }),
  };
}

/** Ten records of a year, nothing against any. */
async function plain(shop: Caller, letters: string): Promise<void> {
  const one = cell(shop, letters);
  await one.register(1, '08-03');
  await one.move('received', 1, '08-04');
  await one.post('conversions', await one.conversion('load-sense', '08-10'));
  await one.adjust('08-11');
  await one.look('08-12');
  await one.move('delivered', 1, '08-20');
  await one.startUp(1, '08-25');
  await one.move('received', 1, '10-05');
  await one.post('conversions', await one.conversion('load-sense-bled', '10-08'));
  await one.look('10-09');
}

/** Two pairs whose controls change places. */
async function moved(shop: Caller): Promise<void> {
  const one = cell(shop, 'MV');
  for (const nth of [1, 2]) {
    await one.register(nth, '08-03');
    await one.move('received', nth, '08-04');
    await one.post('conversions', await one.conversion('load-sense', '08-10', nth));
    await one.adjust('08-11', '210', nth);
  }
  for (const nth of [1, 2]) await one.work('mountings', { ...one.control(nth), ...one.pump(nth), on: false }, '09-01');
  await one.mounting(1, 2, '09-02');
  await one.mounting(2, 1, '09-03');
  for (const nth of [1, 2]) {
    await one.look('09-04', 'port-fitting', nth);
    await one.adjust('09-05', '215', nth);
    await one.move('delivered', nth, '09-10');
    await one.startUp(nth, '09-12');
  }
}

/** Held for a joint that was closed too loosely. */
async function held(shop: Caller): Promise<void> {
  const one = cell(shop, 'HE');
  await one.register(1, '08-03');
  await one.move('received', 1, '08-04');
  for (const day of ['08-05', '08-06', '08-07', '08-08', '08-09']) await one.look(day);
  await one.adjust('08-10');
  const { torques, ...body } = await one.conversion('load-sense', '08-11');
  await one.post('conversions', { ...body, torques: torques.slice(1) });
  await one.look('08-12');
}

/** Incomplete: a check that is still to come. */
async function due(shop: Caller): Promise<void> {
  const one = cell(shop, 'DU');
  await one.register(1, '08-03');
  await one.move('received', 1, '08-04');
  for (const day of ['08-05', '08-06', '08-07', '08-08', '08-09']) await one.look(day);
  await one.adjust('08-10');
  await one.post('conversions', { ...(await one.conversion('load-sense', '08-11')), checks: [] });
  await one.look('08-12');
}

/** A look that is recorded after those that it contradicts, which are judged again. */
async function late(shop: Caller): Promise<void> {
  const one = cell(shop, 'LA');
  await one.register(1, '08-03');
  await one.move('received', 1, '08-04');
  await one.adjust('08-05');
  await one.post('conversions', await one.conversion('load-sense', '08-20'));
  for (const day of ['08-21', '08-22', '08-23', '08-24']) await one.look(day);
  await one.look('08-19', 'port-plug');
  await one.move('delivered', 1, '09-01');
}

/** Out, started up, and claimed for. */
async function claimed(shop: Caller): Promise<void> {
  const one = cell(shop, 'CL');
  await one.register(1, '08-03');
  await one.move('received', 1, '08-04');
  await one.post('conversions', await one.conversion('load-sense', '08-10'));
  await one.adjust('08-11');
  await one.look('08-12');
  await one.move('delivered', 1, '08-20');
  await one.startUp(1, '08-25');
  await one.move('received', 1, '10-05');
  await one.look('10-06');
  const claim = {
    ...{ reference: 'CM-CL-CELL', performedAt: '2026-10-07T08:00:00Z', ...one.pump() },
    ...{ shop: 'north', part: 'control', symptom: 'pressure-unstable', failureMode: 'unknown' },
    failedAt: '2026-10-01T08:00:00Z',
  };
  await one.post('claims', claim);
}
