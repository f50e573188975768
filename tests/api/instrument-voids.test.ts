/** A calibration, check or incident that was a mistake counts no more, whatever it touched. Invented throughout. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { mustGoWell } from '../support/scene.ts';
import { testService } from '../support/service.ts';
import { conversionOf, openShops, registerPair } from '../support/shop.ts';

const db = await testDatabase();
const { brackwater, tollan } = await openShops(await testService(db));
type Json = Awaited<ReturnType<typeof brackwater>>['body'];

const q = (value: string, unit: string) => ({ value, unit });
const wrench = { kind: 'torque-wrench', how: 'set', class: 'A', range: { min: q('2', 'N.m'), max: q('100', 'N.m') } };
const calibration = (reference: string, performedAt: string, asFound: string) => ({
  ...{ reference, performedAt, document: 'certificate' },
  points: ['5', '60', '100'].map((value) => ({
    ...{ at: q(value, 'N.m'), asFound: q(asFound, '%'), asLeft: q('0', '%'), uncertainty: q('0.5', '%') },
  })),
});
const get = async (path: string): Promise<Json> => (await mustGoWell(brackwater('GET', path))).body;
const post = async (path: string, body: unknown): Promise<Json> =>
  (await mustGoWell(brackwater('POST', path, body))).body;
const voidIt = (instrument: string, record: string, shop = brackwater) =>
  shop('POST', `/v1/instruments/${instrument}/voids`, { record, reason: 'of another wrench' });

/** A wrench found good in January. */
async function statedWrench(own: string): Promise<void> {
  await mustGoWell(brackwater('PUT', `/v1/instruments/${own}`, wrench));
  await post(`/v1/instruments/${own}/calibrations`, calibration(`${own}-1`, '2026-01-10T08:00:00Z', '0'));
}

/** Work in April, one torque near its limit: 62.5/0.93 = 67.2 N·m of 58 to 64 (recomputed). */
async function worked(own: string): Promise<Json> {
  await registerPair(brackwater, own);
  const frame = { reference: own, performedAt: '2026-04-01T08:00:00Z' };
  const body: Json = await conversionOf(brackwater, own, 'load-sense', frame);
  const torques = body.torques.map((one: Json) => ({
    ...{ ...one, instrument: own },
    ...(one.joint === 'sense-adjuster-body' && { reading: q('62.5', 'N.m') }),
  }));
  return await post('/v1/conversions', { ...body, torques });
}

const statusOf = async (own: string): Promise<string> => (await get(`/v1/controls/ardenholm/K-${own}`)).control.status;
const mistaken = (own: string) =>
  post(`/v1/instruments/${own}/calibrations`, calibration(`${own}-2`, '2026-05-10T08:00:00Z', '-7'));

describe('a calibration that was a mistake', () => {
  it('stays readable and counts no more: what it touched is judged again, old and new', async () => {
    await statedWrench('swapped');
    const work = await worked('swapped');
    const wrong = await mistaken('swapped');
    expect(await statusOf('swapped')).toBe('held');
    const gone = (await mustGoWell(voidIt('swapped', wrong.id))).body;
    expect(gone).toMatchObject({ instrument: 'swapped', voids: wrong.id });
    expect(await statusOf('swapped')).toBe('released');
    const { items } = await get(`/v1/judgements?cause=${gone.id}`);
    expect(items).toMatchObject([{ record: work.id, status: { was: 'held', is: 'released' } }]);
    expect(items[0].verdicts).toContainEqual(
      expect.objectContaining({ place: 'sense-adjuster-body', was: 'outside', is: 'conforms' }),
    );
    const { foundWorse, events } = await get('/v1/instruments/swapped?at=2026-04-01T00:00:00Z');
    expect([foundWorse, events.map((one: Json) => one.voidedBy)]).toEqual([
      null,
      [null, { record: gone.id, reason: 'of another wrench' }],
    ]);
    expect((await get(`/v1/records/${wrong.id}`)).correctedBy).toBe(gone.id);
    expect(await get(`/v1/records/${gone.id}`)).toMatchObject({ kind: 'instrument-void', concerns: wrong.id });
  });

  it('does not touch what is recorded later', async () => {
    await statedWrench('early');
    const wrong = await mistaken('early');
    await mustGoWell(voidIt('early', wrong.id));
    expect((await worked('early')).status).toBe('released');
  });

  it('can be stated anew as it was, and then counts', async () => {
    await statedWrench('anew');
    await worked('anew');
    await mustGoWell(voidIt('anew', (await mistaken('anew')).id));
    expect(await statusOf('anew')).toBe('released');
    await post('/v1/instruments/anew/calibrations', calibration('anew-3', '2026-05-10T08:00:00Z', '-7'));
    expect(await statusOf('anew')).toBe('held');
  });

  it('was perhaps the one that the work stood on', async () => {
    const demanding = { ...wrench, interval: 'P30D' };
    await mustGoWell(brackwater('PUT', '/v1/instruments/stood', demanding));
    await post('/v1/instruments/stood/calibrations', calibration('stood-1', '2026-01-10T08:00:00Z', '0'));
    const good = await post('/v1/instruments/stood/calibrations', calibration('stood-2', '2026-03-20T08:00:00Z', '0'));
    expect((await worked('stood')).status).toBe('released');
    await mustGoWell(voidIt('stood', good.id));
    const { status, findings } = (await get('/v1/controls/ardenholm/K-stood')).control;
    const rules = new Set(findings.map((one: Json) => one.rule));
    expect([status, [...rules]]).toEqual(['held', ['instrument-overdue']]);
    const [due] = (await get('/v1/calibrations?within=0&first=100')).items.filter(
      (one: Json) => one.instrument === 'stood',
    );
    expect(due.due).toBe('2026-02-09T08:00:00.000000Z');
  });
});

it('an incident that did not happen leaves nobody under suspicion', async () => {
  await statedWrench('fallen');
  const fall = { reference: 'fallen-2', performedAt: '2026-02-10T08:00:00Z', what: 'dropped' };
  const { id } = await post('/v1/instruments/fallen/incidents', fall);
  expect((await worked('fallen')).status).not.toBe('released');
  await mustGoWell(voidIt('fallen', id));
  expect(await statusOf('fallen')).toBe('released');
  expect((await get('/v1/instruments/fallen')).suspect).toBeNull();
});

describe('what is made void', () => {
  it('is so once, whoever comes first', async () => {
    await statedWrench('once');
    const { id } = await mistaken('once');
    const answers = await Promise.all([voidIt('once', id), voidIt('once', id), voidIt('once', id)]);
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409, 409]);
    const { status, body } = await voidIt('once', id);
    expect({ status, findings: body.findings }).toMatchObject({
      ...{ status: 409, findings: [{ rule: 'corrected-already', pointer: '/record' }] },
    });
  });

  it('is an event of that instrument, and of the asker', async () => {
    await statedWrench('mine');
    await statedWrench('other');
    await mustGoWell(tollan('PUT', '/v1/instruments/mine', wrench));
    const { id } = await mistaken('mine');
    const gone = (await mustGoWell(voidIt('mine', id))).body;
    const left = await post('/v1/instruments/mine/calibrations', calibration('mine-3', '2026-06-10T08:00:00Z', '0'));
    const work = await worked('mine');
    const asked = [
      voidIt('other', left.id),
      voidIt('nobody', left.id),
      voidIt('mine', left.id, tollan),
      voidIt('mine', work.id),
      voidIt('mine', gone.id),
    ];
    for (const { status } of await Promise.all(asked)) expect(status).toBe(404);
    const said = await brackwater('POST', '/v1/instruments/mine/voids', { record: left.id });
    expect([said.status, said.body.errors[0].pointer]).toEqual([400, '/reason']);
    expect((await get('/v1/instruments/mine')).calibration).toBe(left.id);
  });
});
