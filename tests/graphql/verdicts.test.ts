/** Verdicts are the same by GraphQL as by REST: those given with a record, and those that later facts made of them. */
import { beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';
import { ask, type Data } from './ask.ts';

const db = await testDatabase();
const service = await testService(db);
let brackwater: Caller;
let analyst: Caller;
let record: string;
let found: string;

const q = (value: string, unit: string) => ({ value, unit });
const wrench = { kind: 'torque-wrench', how: 'set', class: 'A', range: { min: q('2', 'N.m'), max: q('100', 'N.m') } };
const calibration = (reference: string, performedAt: string, asFound: string) => ({
  ...{ reference, performedAt, document: 'certificate' },
  points: ['5', '60'].map((value) => ({
    ...{ at: q(value, 'N.m'), asFound: q(asFound, '%'), asLeft: q('0', '%'), uncertainty: q('0.5', '%') },
  })),
});
const get = async (path: string, shop = brackwater): Promise<Data> => (await mustGoWell(shop('GET', path))).body;
const post = async (path: string, body: unknown): Promise<string> =>
  (await mustGoWell(brackwater('POST', path, body))).body.id;

/** A torque read near its limit with a wrench that is later found 7 % low, and a joint of which two screws were read. */
beforeAll(async () => {
  const shops = await openShops(service);
  brackwater = shops.brackwater;
  analyst = shops.analyst;
  await registerPair(brackwater, '1');
  await mustGoWell(brackwater('PUT', '/v1/instruments/low', wrench));
  await post('/v1/instruments/low/calibrations', calibration('first', '2026-01-10T08:00:00Z', '0.2'));
  const frame = { reference: 'work', performedAt: '2026-04-01T08:00:00Z' };
  const body: Data = await conversionOf(brackwater, '1', 'load-sense', frame);
  const torques = body.torques.map((one: Data) => ({
    ...{ ...one, instrument: 'low' },
    ...(one.joint === 'sense-adjuster-body' && { reading: [q('62.5', 'N.m'), q('60.5', 'N.m')] }),
  }));
  record = await post('/v1/conversions', { ...body, torques });
  found = await post('/v1/instruments/low/calibrations', calibration('second', '2026-05-10T08:00:00Z', '-7'));
});

const verdict = `pointer reading { value unit } min { value unit from } max { value unit from } rule verdict
  estimate { value unit } uncertainty { value unit } guardBand { value unit } probability basis
  fitness { ratio fit partOfRange } linear { verdict estimate { value unit } probability }
  instrument calibration foundBy`;
const changes = `verdictChanges { pointer was is cause judgement { id kind } verdict { ${verdict} } }`;
const query = `query ($id: ID!) { record(id: $id) {
  torques { joint verdicts { ${verdict} } ${changes} }
  settings { setting verdict { ${verdict} } ${changes} }
} }`;

const members = ['torques', 'settings'] as const;
const told = async (caller: Caller): Promise<Data> => (await ask(caller, query, { id: record })).record;
const changesIn = (data: Data): Data[] =>
  members.flatMap((name) => data[name].flatMap((one: Data) => one.verdictChanges));

describe('verdicts', () => {
  it('stand at the reading that they are given on, and are those that REST gives', async () => {
    const { judgement } = await get(`/v1/records/${record}`);
    const data = await told(brackwater);
    const byGraph = [
      ...data.torques.flatMap(({ joint, verdicts }: Data) =>
        verdicts.map((one: Data) => ({ of: 'torque', place: joint, ...one })),
      ),
      ...data.settings.flatMap(({ setting, verdict: one }: Data) =>
        one === null ? [] : [{ of: 'setting', place: setting, ...one }],
      ),
    ];
    expect(byGraph).toEqual(judgement.verdicts.map(ofRest));
    expect(byGraph.filter((one) => one.place === 'sense-adjuster-body')).toMatchObject([
      { pointer: expect.stringMatching(/\/reading\/0$/), verdict: 'conforms', basis: 'calibration', foundBy: null },
      { pointer: expect.stringMatching(/\/reading\/1$/), verdict: 'conforms', max: { value: '64', from: null } },
    ]);
    expect(byGraph.filter((one) => one.of === 'setting').map((one) => one.max?.from)).toContain('function load-sense');
  });

  it('that later facts changed are told with the cause, the old and the new, as REST does', async () => {
    const { items } = await get(`/v1/judgements?cause=${found}`);
    const again = await get(`/v1/records/${items[0].id}`);
    const byRest = items[0].verdicts.map(({ pointer, was, is }: Data) => ({
      ...{ pointer, was, is, cause: again.statement.cause, judgement: { id: items[0].id, kind: 'judgement' } },
      verdict: withoutPlace(ofRest(again.judgement.verdicts.find((one: Data) => one.pointer === pointer))),
    }));
    const byGraph = changesIn(await told(brackwater));
    expect(byGraph).toEqual(byRest);
    // 62.5/0.93 = 67.2 and 60.5/0.93 = 65.1 N·m of 58 to 64 (recomputed).
    expect(
      byGraph.map(({ cause, was, is, verdict: one }) => ({ cause, was, is, foundBy: one.foundBy })),
    ).toContainEqual({ cause: found, was: 'conforms', is: 'outside', foundBy: found });
    expect(byGraph.filter(({ pointer }) => /\/reading\/[01]$/.test(pointer))).toHaveLength(2);
  });

  it('are the same to the maker', async () => {
    expect(await told(analyst)).toEqual(await told(brackwater));
  });
});

/** What REST leaves out GraphQL says to be null. */
function ofRest({ min, max, ...one }: Data): Data {
  const limit = (said: Data) => said && { from: null, ...said };
  return { ...one, min: limit(min), max: limit(max) };
}

function withoutPlace({ of: _, place: __, ...one }: Data): Data {
  return one;
}
