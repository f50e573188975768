/** The trace of a claim: what was in the unit the day it failed, beside what the teardown found. Invented throughout. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { claimOf } from '../support/make-claims.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, maker, onPump, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan } = await openShops(service);
const people = await service.as({ maker });
type Json = Awaited<ReturnType<Caller>>['body'];

async function claimed(number: string, more: object = {}): Promise<string> {
  await registerPair(brackwater, number);
  const frame = { reference: `C-${number}`, performedAt: '2026-04-02T08:00:00Z' };
  await mustGoWell(brackwater('POST', '/v1/conversions', await conversionOf(brackwater, number, 'load-sense', frame)));
  return (await mustGoWell(brackwater('POST', '/v1/claims', claimOf(onPump(number), `CL-${number}`, more)))).body.id;
}
const traceOf = async (claim: string, who: Caller = people, query = ''): Promise<Json> =>
  (await mustGoWell(who('GET', `/v1/claims/${claim}/trace${query}`))).body;
const point = (trace: Json, topic: string, place: string | null): Json =>
  trace.points.find((one: Json) => one.topic === topic && one.place === place);

describe('the trace of a claim', () => {
  it('is of the day of the failure, with the claim’s own findings beside what the records say', async () => {
    const asFound = {
      ...{ function: 'load-sense', plate: 'LS', marks: [{ place: 'spool', text: 'scored' }] },
      stations: { 'bleed-seat': [{ element: 'orifice-0.6' }] },
      settings: { 'pressure-limit': { value: '400', unit: 'bar' } },
    };
    const observations = { speed: { value: '1500', unit: 'r/min' }, water: { unknown: 'no sample' } };
    const claim = await claimed('whole', { asFound, observations });
    const trace = await traceOf(claim);
    expect(trace).toMatchObject({
      ...{ claim: { claim, distributor: 'brackwater', status: 'open', part: 'control' }, pump: { name: 'P-whole' } },
      ...{ control: { name: 'K-whole', function: 'load-sense' }, asked: { performed: '2026-08-20T23:59:59.999999Z' } },
    });
    expect(point(trace, 'as-found', null).bears).toBe('clear');
    expect(point(trace, 'as-found', 'bleed-seat')).toMatchObject({
      ...{ bears: 'bears on the claim', basis: 'Found 1 × orifice-0.6, recorded 1 × plug-m5.', record: claim },
    });
    expect(point(trace, 'as-found', 'pressure-limit').bears).toBe('bears on the claim');
    expect(point(trace, 'as-found', 'spool').basis).toBe('Mark: scored');
    expect(point(trace, 'observation', 'speed').bears).toBe('clear');
    expect(point(trace, 'observation', 'water').bears).toBe('unknown');
    expect(point(trace, 'station', 'bleed-seat').bears).toBe('clear');
  });

  it('has what came to light later, and the decisions', async () => {
    const claim = await claimed('later');
    const observations = { cleanliness: '22/20/17' };
    const found = { reference: 'E', shop: 'north', performedAt: '2026-09-02T08:00:00Z', observations };
    const evidence = (await mustGoWell(brackwater('POST', `/v1/claims/${claim}/evidence`, found))).body.id;
    const trace = await traceOf(claim);
    expect(point(trace, 'observation', 'cleanliness')).toMatchObject({ bears: 'unknown', record: evidence });
    expect(trace.claim.said.map((one: Json) => one.record)).toEqual([claim, evidence]);
  });

  it('has the containments that the units came under, also after the day', async () => {
    const claim = await claimed('contained');
    const criteria = { lot: `${maker}/L-1` };
    const words = { severity: 'stop', reason: 'bores', instruction: 'take it out' };
    const issued = (await mustGoWell(people('POST', '/v1/containments', { reference: 'R', criteria, ...words }))).body;
    const { containments } = await traceOf(claim);
    expect(containments).toMatchObject([{ containment: issued.id, instruction: 'take it out', to: null, after: true }]);
  });

  it('is for its distributor and the maker; another learns nothing of it', async () => {
    const claim = await claimed('seen');
    expect((await traceOf(claim, brackwater)).claim.claim).toBe(claim);
    expect((await tollan('GET', `/v1/claims/${claim}/trace`)).status).toBe(404);
    await traceOf(claim);
    const [latest] = (await mustGoWell(brackwater('GET', '/v1/accesses'))).body.items;
    expect([latest.operation, latest.facts.includes(claim)]).toEqual(['GET /v1/claims/:id/trace', true]);
  });
});
