/** Leave that ends or begins in the very moment in which work is recorded: in the end nothing is judged without it. */
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { edition as demo, mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db, { rememberTokens: true });
const { brackwater } = await openShops(service);
const maker = await service.as({ maker: 'ardenholm' });
const edition = '2026-2';
const from = '2026-01-01T00:00:00Z';
const rounds = 8;
const atOnce = 6;

beforeAll(async () => {
  const demands = { authorised: ['assemble'], approvedShops: true };
  const published = { ...(demo as object), edition, effectiveFrom: '2026-01-02', demands };
  await mustGoWell(maker('PUT', `/v1/catalogue/ardenholm/editions/${edition}`, published));
});

/** A person, a shop and controls of their own, with leave for both. */
async function scene(name: string) {
  await mustGoWell(brackwater('PUT', `/v1/technicians/${name}`, { name }));
  await mustGoWell(brackwater('PUT', `/v1/shops/${name}`, { name }));
  const authorise = () =>
    brackwater('POST', `/v1/technicians/${name}/authorisations`, { reference: name, tasks: ['assemble'], from });
  const approve = () =>
    maker('POST', '/v1/approvals', { reference: name, distributor: 'brackwater', shop: name, from, reason: 'seen' });
  const bodies: object[] = [];
  for (let nth = 0; nth < atOnce; nth++) {
    const serial = `${name}-${nth}`;
    await registerPair(brackwater, serial);
    const times = { reference: serial, performedAt: '2026-04-01T08:00:00Z' };
    const body = await conversionOf(brackwater, serial, 'load-sense', times);
    bodies.push({ ...body, edition, technician: name, shop: name, sheet: undefined });
  }
  return { authorise, approve, bodies };
}

/** What holds these records once all is done, each rule once. */
async function race(bodies: readonly object[], change: () => ReturnType<typeof brackwater>): Promise<string[]> {
  const recorded = bodies.map((body) => mustGoWell(brackwater('POST', '/v1/conversions', body)));
  const [, ...records] = await Promise.all([mustGoWell(change()), ...recorded]);
  const found: string[] = [];
  for (const { body } of records) {
    const { open } = (await mustGoWell(brackwater('GET', `/v1/records/${body.id}`))).body;
    found.push(open.map((one: { rule: string }) => one.rule).join());
  }
  return [...new Set(found)];
}

describe('work that is recorded meanwhile', () => {
  it('is held, all of it, where an authorisation is withdrawn', async () => {
    for (let round = 0; round < rounds; round++) {
      const { authorise, approve, bodies } = await scene(`w-${round}`);
      await mustGoWell(approve());
      const { id } = (await mustGoWell(authorise())).body;
      const end = { reference: `w-${round}`, from };
      const withdraw = () => brackwater('POST', `/v1/authorisations/${id}/withdrawals`, end);
      expect([round, await race(bodies, withdraw)]).toEqual([round, ['technician-not-authorised']]);
    }
  });

  it('is held, all of it, where an approval is withdrawn', async () => {
    for (let round = 0; round < rounds; round++) {
      const { authorise, approve, bodies } = await scene(`a-${round}`);
      await mustGoWell(authorise());
      const { id } = (await mustGoWell(approve())).body;
      const end = { reference: `a-${round}`, from, reason: 'no stand' };
      const withdraw = () => maker('POST', `/v1/approvals/${id}/withdrawals`, end);
      expect([round, await race(bodies, withdraw)]).toEqual([round, ['shop-not-approved']]);
    }
  });

  it('is released, all of it, where leave is given', async () => {
    for (let round = 0; round < rounds; round++) {
      const { authorise, approve, bodies } = await scene(`g-${round}`);
      const given = round % 2 === 0 ? [approve, authorise] : [authorise, approve];
      await mustGoWell(given[0]?.() ?? authorise());
      expect([round, await race(bodies, given[1] ?? approve)]).toEqual([round, ['']]);
    }
  });
});
