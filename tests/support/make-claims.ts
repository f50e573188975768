/** Claims of both distributors on units of their own, each with evidence and a decision, and the maker's terms. */
import { mustGoWell } from './scene.ts';
import type { Caller, TestService } from './service.ts';
import { maker } from './shop.ts';

const performedAt = '2026-09-01T08:00:00Z';

/** A claim that says no more than it must. */
export function claimOf(unit: object, reference: string, more: object = {}) {
  const failed = { at: '2026-08-20T00:00:00Z', precision: 'day' };
  const words = { part: 'control', symptom: 'pressure-unstable', failureMode: 'unknown' };
  return { ...unit, reference, shop: 'north', performedAt, failedAt: failed, ...words, ...more };
}

export const terms = {
  validFrom: '2020-01-01T00:00:00Z',
  validUntil: '2100-01-01T00:00:00Z',
  parts: {
    pump: [
      { months: 24, from: 'start-up' },
      { months: 30, from: 'delivery' },
      { hours: 4000, proRataTo: 6000 },
    ],
    control: [{ months: 24, from: 'delivery' }],
  },
};

/** Once both are stocked up. `unit`: that both have registered their own of; the texts are said in each claim. */
export async function makeClaims(service: TestService, unit: (of: 'brackwater' | 'tollan') => object): Promise<void> {
  const people = await service.as({ maker });
  await mustGoWell(people('PUT', `/v1/terms/${maker}/standard`, terms));
  await mustGoWell(people('PUT', `/v1/terms/${maker}/standard`, { ...terms, text: 'Standard terms' }));
  for (const distributor of ['brackwater', 'tollan'] as const) {
    await claimWithAll(await service.as({ distributor }), people, unit(distributor), distributor);
  }
}

async function claimWithAll(shop: Caller, people: Caller, unit: object, of: string): Promise<void> {
  const texts = { machine: `${of} loader`, duty: 'two shifts', note: 'called on Monday' };
  const wrong = await mustGoWell(shop('POST', '/v1/claims', claimOf(unit, ' claim-0 ', texts)));
  const corrected = { ...texts, technician: 't-17', replaces: wrong.body.id.toUpperCase() };
  const { id } = (await mustGoWell(shop('POST', '/v1/claims', claimOf(unit, 'claim-1', corrected)))).body;
  const found = { reference: 'claim-2', shop: 'north', performedAt, observations: { cleanliness: '22/20/17' } };
  await mustGoWell(shop('POST', `/v1/claims/${id}/evidence`, { ...found, note: 'from the laboratory' }));
  const decided = { reference: ` ${of} `, performedAt, decision: 'goodwill', reasons: ' as agreed ' };
  const cost = { amount: '1240.00', currency: 'EUR' };
  await mustGoWell(people('POST', `/v1/claims/${id}/decisions`, { ...decided, cost }));
}
