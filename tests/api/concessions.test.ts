/** Concessions with limits and an end, in every read, with nobody writing anything when they end. Invented throughout. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowCounts } from '../support/rows.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, maker, openShops, registerPair, unitFor } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
const lead = await service.as({ distributor: 'brackwater', subject: 'lead' });
type Json = Awaited<ReturnType<typeof brackwater>>['body'];

const pressure = { what: 'pressure', atMost: { value: '180', unit: 'bar' } };
const words = { text: 'only on the canary stand' };
/** An end this close is waited for. */
const soon = () => new Date(Date.now() + 1_500).toISOString();
const farAway = '2050-01-01T00:00:00Z';

/** K-number, held by a torque that is too low. */
async function heldUnit(number: string): Promise<string> {
  await registerPair(brackwater, number);
  const frame = { reference: `c-${number}`, performedAt: '2026-04-01T08:00:00Z' };
  const body = (await conversionOf(brackwater, number, 'load-sense', frame)) as Json;
  const torques = body['torques'].map((one: Json) =>
    one['joint'] === 'sense-adjuster-body' ? { ...one, reading: { value: '40', unit: 'N.m' } } : one,
  );
  return (await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, torques }))).body.id;
}

let decisions = 0;
async function decide(record: string, more: object) {
  const frame = { reference: `d-${++decisions}`, performedAt: '2026-04-02T08:00:00Z', reason: 'tested' };
  return await lead('POST', `/v1/records/${record}/dispositions`, { ...frame, decision: 'concession', ...more });
}

const listed = async (record: string) =>
  (await mustGoWell(brackwater('GET', '/v1/held?first=200'))).body.items.filter(
    (one: Json) => one['record'] === record,
  );
const withStatus = async (status: string, record: string) => {
  const query = `query($status: Status) { records(filter: {status: $status}, first: 100) { edges { node { id } } } }`;
  const { body } = await mustGoWell(brackwater('POST', '/graphql', { query, variables: { status } }));
  return body.data.records.edges.some(({ node }: Json) => node.id === record);
};

/** How a unit stands in each read there is. */
async function everywhere(number: string, record: string) {
  const unit = await unitFor(brackwater, 'control', number);
  const history = (await mustGoWell(brackwater('GET', `/v1/controls/${maker}/K-${number}/history`))).body;
  const read = (await mustGoWell(brackwater('GET', `/v1/records/${record}`))).body;
  const csv = await service.server.inject({
    ...{ method: 'GET', url: '/v1/export/records?format=csv&kind=conversion' },
    headers: { authorization: `Bearer ${await service.tokenOf({ distributor: 'brackwater' })}` },
  });
  return {
    unit: unit.status,
    history: history.state.status,
    record: read.status,
    held: (await listed(record)).length,
    byStatus: [await withStatus('held', record), await withStatus('released', record)],
    csv:
      csv.payload
        .split('\r\n')
        .find((line) => line.includes(record))
        ?.includes('torque-outside') ?? null,
  };
}

const free = {
  unit: 'released',
  history: 'released',
  record: 'released',
  held: 0,
  byStatus: [false, true],
  csv: false,
};
const held = { unit: 'held', history: 'held', record: 'held', held: 1, byStatus: [true, false], csv: true };

describe('a concession with an end', () => {
  it('releases until then and holds again after it, in every read and without a write', async () => {
    const record = await heldUnit('1');
    expect(await everywhere('1', record)).toEqual(held);
    const expires = soon();
    await mustGoWell(decide(record, { expires }));
    await mustGoWell(decide(record, { expires: farAway }));
    expect(await everywhere('1', record)).toEqual(free);
    const again = await mustGoWell(decide(record, { expires: soon() }));
    const before = await rowCounts(db);
    await expect.poll(async () => (await unitFor(brackwater, 'control', '1')).status, { timeout: 10_000 }).toBe('held');
    expect(await everywhere('1', record)).toEqual(held);
    expect(await listed(record)).toMatchObject([{ concession: { record: again.body.id, ended: true } }]);
    expect(await rowCounts(db)).toEqual(before);
  });

  it('is refused when it has ended already, and can be given again after the end of another', async () => {
    const record = await heldUnit('2');
    const late = await decide(record, { expires: '2026-04-03T08:00:00Z' });
    expect(late).toMatchObject({
      status: 409,
      body: { findings: [{ rule: 'concession-ended', pointer: '/expires' }] },
    });
    await mustGoWell(decide(record, { expires: soon() }));
    await expect.poll(async () => (await unitFor(brackwater, 'control', '2')).status, { timeout: 10_000 }).toBe('held');
    await mustGoWell(decide(record, { expires: farAway }));
    expect((await unitFor(brackwater, 'control', '2')).status).toBe('released');
    await mustGoWell(decide(record, { decision: 'rework' }));
    expect((await unitFor(brackwater, 'control', '2')).status).toBe('held');
  });

  it('holds as at a time that is asked for: after its end, not before, and not before it was given', async () => {
    const record = await heldUnit('3');
    await mustGoWell(decide(record, { expires: farAway }));
    const at = async (query: string) =>
      (await mustGoWell(brackwater('GET', `/v1/controls/${maker}/K-3/history?${query}`))).body.state.status;
    expect(await at('performed=2026-04-02T07:59:59Z')).toBe('held');
    expect(await at('performed=2026-04-02T08:00:00Z')).toBe('released');
    expect(await at('performed=2049-12-31T23:59:59Z')).toBe('released');
    expect(await at('performed=2050-01-01T00:00:00Z')).toBe('held');
  });
});

describe('the limits of a concession', () => {
  it('are read with the unit: numbers by everybody, words by whose record it is', async () => {
    const record = await heldUnit('4');
    const { id } = (await mustGoWell(decide(record, { limits: [pressure, words] }))).body;
    const concession = { record: id, until: null, ended: false, limits: [pressure, words] };
    const { status, findings } = await unitFor(brackwater, 'control', '4');
    expect([status, findings]).toMatchObject(['released', [{ rule: 'torque-outside', concession }]]);
    expect((await mustGoWell(brackwater('GET', `/v1/records/${record}`))).body.open).toMatchObject([{ concession }]);
    const others = { ...concession, limits: [pressure, { text: null }] };
    expect((await unitFor(tollan, 'control', '4')).findings).toMatchObject([{ concession: others }]);
    expect(JSON.stringify(await unitFor(tollan, 'control', '4'))).not.toContain('canary');
    expect((await unitFor(analyst, 'control', '4')).findings).toMatchObject([{ concession }]);
    const inches = await mustGoWell(brackwater('GET', `/v1/controls/${maker}/K-4?units=imperial`));
    expect(inches.body.control.findings[0].concession.limits[0].atMost).toMatchObject({ display: { unit: 'psi' } });
  });

  it('are the same in reports', async () => {
    const record = await heldUnit('5');
    const { id } = (await mustGoWell(decide(record, { limits: [pressure, words], expires: farAway }))).body;
    const query = `{ control(maker: "${maker}", serial: "K-5") { status findings {
      concession { until ended record { id } limits { what text atMost { value unit } } } } } }`;
    const { body } = await mustGoWell(brackwater('POST', '/graphql', { query }));
    const limits = [
      { ...pressure, text: null },
      { what: null, atMost: null, ...words },
    ];
    expect(body.data.control).toEqual({
      status: 'released',
      findings: [{ concession: { until: '2050-01-01T00:00:00.000000Z', ended: false, record: { id }, limits } }],
    });
  });
});
