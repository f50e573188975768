import { mustGoWell } from './scene.ts';
import type { Caller } from './service.ts';

/** A wrench that nobody works with: calibrated, checked and dropped, and said by mistake to be repaired. Invented. */
export async function examineInstrument(shop: Caller): Promise<void> {
  const path = '/v1/instruments/tw-spare';
  await mustGoWell(shop('PUT', path, { kind: 'torque-wrench', how: 'indicated', class: 'A' }));
  const point = { at: { value: '60', unit: 'N.m' }, asFound: { value: '-0.5', unit: '%' } };
  const uncertainty = { value: '1.0', unit: '%' };
  const said = (reference: string, month: string) => ({ reference, performedAt: `2026-${month}-10T08:00:00+01:00` });
  await mustGoWell(
    shop('POST', `${path}/calibrations`, {
      ...{ ...said('cal-1', '01'), document: 'certificate', points: [{ ...point, uncertainty }] },
      laboratory: 'a laboratory',
    }),
  );
  await mustGoWell(shop('POST', `${path}/checks`, { ...said('chk-1', '02'), points: [point] }));
  await mustGoWell(shop('POST', `${path}/incidents`, { ...said('inc-1', '03'), what: 'dropped', note: 'on a stone' }));
  const repair = { ...said('inc-2', '04'), what: 'repaired' };
  const { id } = (await mustGoWell(shop('POST', `${path}/incidents`, repair))).body;
  await mustGoWell(shop('POST', `${path}/voids`, { record: id, reason: 'of another wrench' }));
}
