/** The scene of the demo: an edition, two distributors with shops, people, instruments and lots, and units in the field. */
import { readFile } from 'node:fs/promises';
import type { Caller } from './caller.ts';
import { certificate } from './wrench.ts';

export const edition = '2026-1';
export const maker = 'ardenholm';

export type Callers = {
  readonly maker: Caller;
  readonly brackwater: Caller;
  readonly tollan: Caller;
  readonly analyst: Caller;
};

export async function setTheScene({ maker: publisher, brackwater, tollan }: Callers): Promise<void> {
  const file = new URL('./ardenholm-2026-1.json', import.meta.url);
  await publisher.put(`/v1/catalogue/${maker}/editions/${edition}`, JSON.parse(await readFile(file, 'utf8')));
  await stockUp(brackwater, 'brackwater-north', 't-17', 'tw-3', 'pg-1');
  await stockUp(tollan, 'tollan-harbour', 't-4', 'tw-1', 'pg-9');
  await brackwater.put(`/v1/pumps/${maker}/P-7741`, pump('clockwise', control('K-20931', 'load-sense-bled')));
  await brackwater.put(`/v1/pumps/${maker}/P-8002`, pump('clockwise', control('K-20940', 'load-sense')));
  await brackwater.put(`/v1/controls/${maker}/K-20950`, {
    edition,
    performedAt: '2026-03-02T09:00:00+01:00',
    shop: 'brackwater-north',
    ...blockWith('load-sense'),
    for: { size: '83', rotation: 'clockwise' },
  });
  await tollan.put(`/v1/pumps/${maker}/P-8100`, pump('clockwise', null));
  await tollan.put(`/v1/pumps/${maker}/P-8101`, pump('clockwise', control('K-21007', 'load-sense')));
}

/** Both distributors name their things as they please; the lots are the maker's. */
async function stockUp(caller: Caller, shop: string, technician: string, wrench: string, gauge: string): Promise<void> {
  const range = (min: string, max: string, unit: string) => ({ min: { value: min, unit }, max: { value: max, unit } });
  await caller.put(`/v1/shops/${shop}`, { name: shop });
  await caller.put(`/v1/technicians/${technician}`, { name: `fitter ${technician}` });
  await caller.put(`/v1/instruments/${wrench}`, {
    kind: 'torque-wrench',
    how: 'set',
    range: range('2', '100', 'N.m'),
    shop,
    class: 'A',
  });
  await caller.post(
    `/v1/instruments/${wrench}/calibrations`,
    certificate('C-0001', '2026-01-12T09:00:00+01:00', '0.3'),
  );
  await caller.put(`/v1/instruments/${gauge}`, { kind: 'gauge', range: range('0', '400', 'bar'), class: '1.0', shop });
  for (const [number, part] of [
    ['L-2402-7', 'kit-remote'],
    ['L-2402-9', 'kit-overhaul-nbr'],
  ]) {
    await caller.put(`/v1/lots/${maker}/${number}`, { part });
    await caller.post(`/v1/lots/${maker}/${number}/intakes`, {
      reference: `IN-${number}`,
      performedAt: '2026-02-02T08:30:00+01:00',
      shop,
      quantity: 20,
    });
  }
}

function pump(rotation: string, on: object | null) {
  const empty = { content: [], basis: 'built' };
  return {
    edition,
    performedAt: '2026-03-02T08:00:00+01:00',
    builtAt: { at: '2026-01-05T00:00:00+00:00', precision: 'month' },
    series: 'curlew',
    size: '83',
    rotation,
    fluid: 'mineral',
    stations: {
      'pump/displacement-stop': { content: [{ element: 'stop-screw' }], basis: 'built' },
      'pump/linkage': empty,
      'pump/torque-spring': empty,
      'pump/torque-adjuster': empty,
    },
    control: on,
  };
}

function control(serial: string, fun: string) {
  return {
    serial,
    ...blockWith(fun),
    settings: { 'pressure-limit': { value: '210', unit: 'bar' }, differential: { value: '14', unit: 'bar' } },
  };
}

function blockWith(fun: string) {
  return {
    body: 'curlew-block',
    function: fun,
    basis: 'built',
    choices: {
      'pressure-adjuster': 'adjuster-320',
      'sense-spring': 'spring-sense-16',
      ...(fun === 'load-sense-bled' && { 'bleed-seat': 'orifice-0.6' }),
    },
    stations: { 'test-port': { content: [{ element: 'test-coupling' }] } },
  };
}
