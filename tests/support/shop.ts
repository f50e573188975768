/** What the tests of recording stand on: an edition, two distributors that call their things the same, and units. */
import { block, byTheBook, mustGoWell, publish, pumpWith, stockUp } from './scene.ts';
import type { Caller, TestService } from './service.ts';

export const maker = 'ardenholm';
export const edition = '2026-1';

export type Shops = { readonly brackwater: Caller; readonly tollan: Caller; readonly analyst: Caller };

/** Publishes the demo edition and stocks both distributors up. */
export async function openShops(service: TestService): Promise<Shops> {
  await publish(await service.as({ maker }));
  const brackwater = await service.as({ distributor: 'brackwater' });
  const tollan = await service.as({ distributor: 'tollan' });
  await stockUp(brackwater);
  await stockUp(tollan);
  return { brackwater, tollan, analyst: await service.as({ maker, scopes: ['warranty:read'] }) };
}

/** Pump P-number and control K-number on it. */
export async function registerPair(shop: Caller, number: string, fun = 'load-sense-bled'): Promise<void> {
  await mustGoWell(shop('PUT', `/v1/pumps/${maker}/P-${number}`, pumpWith({ serial: `K-${number}`, function: fun })));
}

export const onControl = (number: string) => ({ control: { maker, serial: `K-${number}` } });
export const onPump = (number: string) => ({ pump: { maker, serial: `P-${number}` } });

/** K-number or P-number as this shop reads it. */
export async function unitFor(shop: Caller, kind: 'pump' | 'control', number: string) {
  const name = `${kind === 'pump' ? 'P' : 'K'}-${number}`;
  return (await mustGoWell(shop('GET', `/v1/${kind}s/${maker}/${name}`))).body[kind];
}

/** Control K-number on the shelf. */
export async function registerControl(shop: Caller, number: string, fun = 'load-sense-bled'): Promise<void> {
  await mustGoWell(shop('PUT', `/v1/controls/${maker}/K-${number}`, controlBody(fun)));
}

export function controlBody(fun: string) {
  const performedAt = '2026-03-02T08:00:00+01:00';
  return { edition, performedAt, ...block(fun), for: { size: '83', rotation: 'clockwise' } };
}

export type Frame = { readonly reference: string; readonly performedAt: string };

/** A complete record of converting K-number, by its job sheet as it is now: nothing is against it. */
export async function conversionOf(shop: Caller, number: string, to: string, frame: Frame) {
  const sheet = await mustGoWell(shop('GET', `/v1/controls/${maker}/K-${number}/job-sheet?function=${to}`));
  return {
    control: { maker, serial: `K-${number}` },
    ...frame,
    found: { function: sheet.body.from.function as string },
    to: { function: to },
    ...byTheBook(sheet.body),
  };
}

/** A short record that nothing is against while K-number has not been converted for remote pressure. */
export function inspectionOf(number: string, frame: Frame) {
  return {
    control: { maker, serial: `K-${number}` },
    ...frame,
    edition,
    shop: 'north',
    technician: 't-17',
    found: { stations: { 'signal-port': [{ element: 'port-fitting' }] } },
    note: 'looked at the signal port',
  };
}

/** Plenty: what tests use of a lot doesn't run out. */
export function intakeOf(reference: string, quantity = 300) {
  return { reference, performedAt: '2026-05-01T08:00:00Z', shop: 'north', quantity };
}
