/** Instruments over time: what is found of one later judges again what was read with it. Invented throughout. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
type Json = Awaited<ReturnType<typeof brackwater>>['body'];

const q = (value: string, unit: string) => ({ value, unit });
const wrench = { kind: 'torque-wrench', how: 'set', class: 'A', range: { min: q('2', 'N.m'), max: q('100', 'N.m') } };
const points = (asFound: string, asLeft: string) =>
  ['5', '60', '100'].map((value) => ({
    ...{ at: q(value, 'N.m'), asFound: q(asFound, '%'), asLeft: q(asLeft, '%'), uncertainty: q('0.5', '%') },
  }));
const calibration = (reference: string, performedAt: string, asFound: string, more: object = {}) => ({
  ...{ reference, performedAt, document: 'certificate', points: points(asFound, '0') },
  ...more,
});
const get = async (path: string, shop: Caller = brackwater) => (await mustGoWell(shop('GET', path))).body as Json;
const post = async (path: string, body: unknown, shop: Caller = brackwater) =>
  (await mustGoWell(shop('POST', path, body))).body as Json;

/** A conversion on a pump of its own, every torque with this wrench, in the middle of its limits or at this reading. */
async function converted(number: string, instrument: string, performedAt: string, front = '61.0') {
  await registerPair(brackwater, number);
  const body = (await conversionOf(brackwater, number, 'load-sense', { reference: number, performedAt })) as Json;
  const torques = body['torques'].map((one: Json) => ({
    ...one,
    instrument,
    ...(one['joint'] === 'sense-adjuster-body' && { reading: q(front, 'N.m') }),
  }));
  return await post('/v1/conversions', { ...body, torques });
}
const rulesOf = (findings: Json[]) => [...new Set(findings.map((one) => one['rule'] as string))].sort();
const holding = (record: Json) => rulesOf(record['findings'].filter((one: Json) => one['severity'] === 'hold'));
const control = async (number: string) => (await get(`/v1/controls/ardenholm/K-${number}`)).control as Json;

describe('a wrench that is found 7 % low', () => {
  it('has what was read with it since the last good calibration judged again, old and new, on the pumps of today', async () => {
    await mustGoWell(brackwater('PUT', '/v1/instruments/low', wrench));
    await post('/v1/instruments/low/calibrations', calibration('first', '2026-01-10T08:00:00Z', '0.2'));
    const [near, middle] = [
      await converted('near', 'low', '2026-04-01T08:00:00Z', '62.5'),
      await converted('middle', 'low', '2026-04-02T08:00:00Z', '58.5'),
    ];
    expect([near, middle].map((one) => one['status'])).toEqual(['released', 'released']);
    const before = (await get(`/v1/records/${near['id']}`)).recordedAt as string;
    const found = await post('/v1/instruments/low/calibrations', calibration('second', '2026-05-10T08:00:00Z', '-7'));
    const { items } = await get(`/v1/judgements?cause=${found['id']}`);
    const fronts = items.map((one: Json) => ({
      ...{ reference: one['reference'], status: one['status'] },
      ...{ verdicts: one['verdicts'].filter((each: Json) => each['place'] === 'sense-adjuster-body') },
      pumps: one['units'].flatMap((unit: Json) => unit['mountedWith']?.name ?? []),
    }));
    // 62.5/0.93 = 67.2 N·m of 58 to 64 (recomputed); 58.5/0.93 = 62.9 stays within.
    expect(fronts[0]).toMatchObject({
      ...{ reference: 'near', status: { was: 'released', is: 'held' } },
      verdicts: [{ place: 'sense-adjuster-body', was: 'conforms', is: 'outside' }],
    });
    expect(fronts[0].pumps).toContain('P-near');
    expect(fronts.flatMap((one: Json) => (one['reference'] === 'middle' ? one['verdicts'] : []))).toEqual([]);
    expect(await control('near')).toMatchObject({ status: 'held' });
    // As known then it was released, and its own judgement stays as it was given.
    const then = await get(`/v1/controls/ardenholm/K-near/history?known=${before}`);
    expect(then.state.status).toBe('released');
    expect((await get(`/v1/records/${near['id']}`)).judgement.status).toBe('released');
    expect(await get(`/v1/judgements?cause=${found['id']}`, analyst)).toMatchObject({
      items: [{}, {}].slice(0, items.length),
    });
    expect((await get(`/v1/judgements?cause=${found['id']}`, tollan)).items).toEqual([]);
  });

  it('is the same whichever comes first: the work, the calibration before it or the one after it', async () => {
    const stories: readonly (readonly string[])[] = [
      ['first', 'work', 'second'],
      ['second', 'work', 'first'],
      ['work', 'second', 'first'],
      ['first', 'second', 'work'],
    ];
    const ends: Json[] = [];
    for (const [index, story] of stories.entries()) {
      const [number, own] = [`order-${index}`, `wrench-${index}`];
      await mustGoWell(brackwater('PUT', `/v1/instruments/${own}`, wrench));
      const steps: Readonly<Record<string, () => Promise<unknown>>> = {
        first: () =>
          post(`/v1/instruments/${own}/calibrations`, calibration(`${number}-1`, '2026-01-10T08:00:00Z', '0')),
        work: () => converted(number, own, '2026-04-01T08:00:00Z', '62.5'),
        second: () =>
          post(`/v1/instruments/${own}/calibrations`, calibration(`${number}-2`, '2026-05-10T08:00:00Z', '-7')),
      };
      for (const step of story) await steps[step]?.();
      const { status, findings } = await control(number);
      ends.push({ status, findings: findings.map((one: Json) => `${one['rule']} ${one['pointer']}`).sort() });
    }
    expect(ends[0]).toMatchObject({ status: 'held' });
    for (const end of ends) expect(end).toEqual(ends[0]);
  });
});

describe('a wrench whose calibration is overdue', () => {
  it('holds what is read with it, until a calibration finds it good', async () => {
    await mustGoWell(brackwater('PUT', '/v1/instruments/late', { ...wrench, interval: 'P30D' }));
    await post('/v1/instruments/late/calibrations', calibration('late-1', '2026-01-10T08:00:00Z', '0'));
    const work = await converted('late', 'late', '2026-04-01T08:00:00Z');
    expect([work['status'], holding(work)]).toEqual(['held', ['instrument-overdue']]);
    const clears = work['findings'].find((one: Json) => one['rule'] === 'instrument-overdue')['clearedBy'];
    expect(clears).toContainEqual({ kind: 'calibration', place: 'late' });
    // What a unit shows to everybody names no instrument.
    expect(JSON.stringify((await control('late'))['findings'])).not.toContain('"late"');
    const good = calibration('late-2', '2026-04-10T08:00:00Z', '1.5');
    const answer = await brackwater('POST', '/v1/instruments/late/calibrations', good, 'late-key');
    expect((await control('late'))['status']).toBe('released');
    expect((await brackwater('POST', '/v1/instruments/late/calibrations', good, 'late-key')).text).toBe(answer.text);
    const record = await get(`/v1/records/${work['id']}`);
    expect([record.status, record.judgedAgain.length]).toEqual(['released', 1]);
  });

  it('leaves it due where a calibration is said to be on its way', async () => {
    await mustGoWell(brackwater('PUT', '/v1/instruments/sent', { ...wrench, interval: 'P30D' }));
    await post('/v1/instruments/sent/calibrations', calibration('sent-1', '2026-01-10T08:00:00Z', '0'));
    const work = await converted('sent', 'sent', '2026-04-01T08:00:00Z');
    expect(work['status']).toBe('held');
    await mustGoWell(brackwater('PUT', '/v1/instruments/sent', { ...wrench, interval: 'P30D', awaited: 'sent away' }));
    expect((await control('sent'))['status']).toBe('incomplete');
  });
});

describe('what is said of an instrument', () => {
  it('is read back, with how it stands at a time', async () => {
    await mustGoWell(brackwater('PUT', '/v1/instruments/seen', wrench));
    await post('/v1/instruments/seen/calibrations', calibration('seen-1', '2026-01-10T08:00:00Z', '0'));
    await post('/v1/instruments/seen/incidents', {
      reference: 'seen-2',
      performedAt: '2026-02-01T08:00:00Z',
      what: 'dropped',
    });
    const check = { at: q('60', 'N.m'), asFound: q('-9', '%') };
    await post('/v1/instruments/seen/checks', {
      reference: 'seen-3',
      performedAt: '2026-03-01T08:00:00Z',
      points: [check],
    });
    const seen = await get('/v1/instruments/seen?at=2026-02-15T00:00:00Z');
    expect(seen).toMatchObject({
      ...{ id: 'seen', overdue: false, neverCalibrated: false, due: '2027-01-10T08:00:00.000000Z' },
      ...{ suspect: { what: 'dropped' }, foundWorse: { at: '2026-03-01T08:00:00.000000Z' } },
      events: [
        { kind: 'calibration', good: true },
        { kind: 'incident', good: null },
        { kind: 'interim-check', good: false },
      ],
    });
    const { items } = await get('/v1/calibrations?within=30&at=2026-12-20T00:00:00Z');
    const own = items.find((one: Json) => one['instrument'] === 'seen');
    expect(own).toMatchObject({ daysLeft: 21, suspect: 'dropped' });
    expect((await tollan('GET', '/v1/instruments/seen')).status).toBe(404);
  });

  it.each([
    ['of an instrument that nobody has stated', 'nobody', calibration('r-0', '2026-01-10T08:00:00Z', '0'), 404, ''],
    ['done in the future', 'seen', calibration('r-1', '2999-01-10T08:00:00Z', '0'), 409, '/performedAt'],
    [
      'in another quantity',
      'seen',
      calibration('r-2', '2026-01-10T08:00:00Z', '0', {
        points: [{ at: q('60', 'bar'), asFound: q('0', '%'), uncertainty: q('1', '%') }],
      }),
      409,
      '/points/0/at/unit',
    ],
    [
      'that is a certificate without an uncertainty',
      'seen',
      calibration('r-3', '2026-01-10T08:00:00Z', '0', { points: [{ at: q('60', 'N.m'), asFound: q('0', '%') }] }),
      400,
      '/points',
    ],
    [
      'of a point at which nothing was found or left',
      'seen',
      calibration('r-4', '2026-01-10T08:00:00Z', '0', { points: [{ at: q('60', 'N.m'), uncertainty: q('1', '%') }] }),
      400,
      '/points/0/asFound',
    ],
    [
      'with a deviation in another quantity',
      'seen',
      calibration('r-5', '2026-01-10T08:00:00Z', '0', {
        points: [{ at: q('60', 'N.m'), asFound: q('1', 'bar'), uncertainty: q('1', '%') }],
      }),
      400,
      '/points/0/at',
    ],
    ['of −100 %', 'seen', calibration('r-6', '2026-01-10T08:00:00Z', '-100'), 400, '/points/0/asFound'],
    ['under a reference that is used', 'seen', calibration('seen-1', '2026-01-10T08:00:00Z', '0'), 409, '/reference'],
  ])('is refused at its place: a calibration %s', async (_, instrument, body, status, pointer) => {
    const answer = await brackwater('POST', `/v1/instruments/${instrument}/calibrations`, body);
    expect(answer.status).toBe(status);
    const places = [...(answer.body.errors ?? []), ...(answer.body.findings ?? [])].map((one: Json) => one['pointer']);
    expect(pointer === '' ? [] : places).toEqual(pointer === '' ? [] : expect.arrayContaining([pointer]));
  });
});
