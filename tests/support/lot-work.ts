/** Work that takes pieces from lots, for tests of stock: controls on the shelf that get their bleed. */
import { mustGoWell } from './scene.ts';
import type { Caller } from './service.ts';
import { conversionOf, maker, registerControl } from './shop.ts';

export type LotWork = {
  /** A good record of giving K-number its bleed, with the orifice from this lot; the seals are from L-1. */
  readonly bleed: (number: string, lot: unknown, more?: object) => Promise<Record<string, unknown>>;
  /** Recorded; with its id and how it was judged. */
  readonly convert: (number: string, lot: unknown, more?: object) => Promise<Converted>;
  readonly statusOf: (number: string) => Promise<string>;
};
// biome-ignore lint/suspicious/noExplicitAny: an answer as JSON
export type Converted = { readonly id: string; readonly status: string; readonly findings: any[] };

/** @param hour of the day on which all is done, by number: what comes later comes after */
export async function lotWork(shop: Caller, series: string, hour: (number: string) => number): Promise<LotWork> {
  await registerControl(shop, `${series}-model`, 'load-sense');
  const frame = { reference: '', performedAt: '' };
  const model = await conversionOf(shop, `${series}-model`, 'load-sense-bled', frame);
  const bleed = async (number: string, lot: unknown, more: object = {}) => {
    await registerControl(shop, `${series}-${number}`, 'load-sense');
    return {
      ...{ ...model, control: { maker, serial: `K-${series}-${number}` }, reference: `${series}-${number}` },
      performedAt: `2026-04-01T${String(hour(number)).padStart(2, '0')}:00:00Z`,
      fitted: model.fitted.map((one: object) => ({ ...one, ...(lot === null ? {} : { lot }) })),
      ...more,
    };
  };
  return {
    bleed,
    convert: async (number, lot, more) =>
      (await mustGoWell(shop('POST', '/v1/conversions', await bleed(number, lot, more)))).body,
    statusOf: async (number) =>
      (await mustGoWell(shop('GET', `/v1/controls/${maker}/K-${series}-${number}`))).body.control.status,
  };
}

/** What holds a record: the rules that do. */
export function holding({ findings }: Converted): string[] {
  return findings.filter((one) => one.severity === 'hold').map((one) => one.rule);
}
