/** Nothing is refused merely for being late: what was true then is taken, whatever was recorded since. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { byTheBook, mustGoWell, pumpWith } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import {
  conversionOf,
  inspectionOf,
  maker,
  onControl,
  onPump,
  openShops,
  registerControl,
  registerPair,
  unitFor,
} from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater } = await openShops(service);
type Json = Awaited<ReturnType<Caller>>['body'];

const day = (date: string) => `2026-${date}T08:00:00Z`;
let count = 0;
const frame = (date: string) => ({
  reference: `R-${++count}`,
  performedAt: day(date),
  shop: 'north',
  technician: 't-17',
});
const post = async (path: string, body: object): Promise<Json> =>
  (await mustGoWell(brackwater('POST', path, body))).body;
const mount = (control: object, pump: string, on: boolean, date: string, rest: object = {}) =>
  brackwater('POST', '/v1/mountings', { ...control, ...onPump(pump), on, ...frame(date), edition: '2026-1', ...rest });
const named = (tag: string) => ({ control: { maker, tag } });
const holdsOn = async (number: string) =>
  (await unitFor(brackwater, 'control', number)).findings
    .filter((one: Json) => one.severity === 'hold')
    .map((one: Json) => one.rule);
/** A pump with a control on it that has no name. */
const nameless = async (number: string) =>
  await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-${number}`, pumpWith({ function: 'load-sense-bled' })));

describe('what was found then', () => {
  it('by its function alone is what the records had then, though later work changed it', async () => {
    await registerControl(brackwater, 'then', 'load-sense-bled');
    const frame = (date: string) => ({ reference: `then-${date}`, performedAt: day(date) });
    const june = await conversionOf(brackwater, 'then', 'load-sense', frame('06-01'));
    const look = { ...inspectionOf('then', frame('05-01')), found: { function: 'load-sense-bled' } };
    await post('/v1/conversions', june);
    expect((await post('/v1/inspections', look)).status).toBe('released');
    expect(await holdsOn('then')).toEqual([]);
    const wrong = { ...inspectionOf('then', frame('05-02')), found: { function: 'load-sense' } };
    expect((await brackwater('POST', '/v1/inspections', wrong)).body).toMatchObject({
      status: 409,
      recorded: { function: 'load-sense-bled' },
    });
  });

  it('on a pump is of the control that was on it then', async () => {
    await registerPair(brackwater, 'was');
    await registerControl(brackwater, 'is', 'load-sense-bled');
    await post('/v1/mountings', {
      ...onControl('was'),
      ...onPump('was'),
      on: false,
      ...frame('05-01'),
      edition: '2026-1',
    });
    await mustGoWell(mount(onControl('is'), 'was', true, '05-02'));
    await registerPair(brackwater, 'next', 'load-sense');
    await mustGoWell(mount(onControl('next'), 'next', false, '05-03'));
    await mustGoWell(mount(onControl('was'), 'next', true, '05-04'));
    const work = { ...onPump('was'), edition: '2026-1', found: { function: 'load-sense-bled' } };
    expect((await post('/v1/inspections', { ...work, ...frame('04-01') })).control.name).toBe('K-was');
    expect((await post('/v1/inspections', { ...work, ...frame('05-03') })).control.name).toBe('K-is');
    const off = { ...inspectionOf('was', frame('05-01')), performedAt: '2026-05-02T08:00:00Z' };
    expect((await post('/v1/inspections', off)).pump).toBe(null);
    // A mounting of which nobody said with what torques is held for that, and for nothing that came later.
    const ofEvidence = ['joint-not-closed', 'seal-not-renewed'];
    for (const number of ['was', 'is']) {
      expect((await holdsOn(number)).filter((rule: string) => !ofEvidence.includes(rule))).toEqual([]);
    }
  });
});

describe('names that were given since', () => {
  it('lead to the unit in records of work that was done before', async () => {
    await nameless('tagged');
    await mustGoWell(mount({}, 'tagged', false, '06-01', { tag: 'T-1' }));
    const look = { ...inspectionOf('x', frame('05-01')), ...named('T-1') };
    expect((await post('/v1/inspections', look)).pump).toMatchObject({ name: 'P-tagged' });
    const plate = { ...named('T-1'), ...frame('06-02'), what: 're-plated', serial: 'K-plated', reason: 'a new plate' };
    await post('/v1/identities', plate);
    const again = { ...inspectionOf('plated', frame('05-02')) };
    expect((await post('/v1/inspections', again)).control.name).toBe('K-plated');
  });

  it('may be told a second time, by the record that comes late', async () => {
    await nameless('twice');
    await mustGoWell(mount({}, 'twice', false, '06-01', { tag: 'T-2' }));
    // It had come off before, with the same tag on it, and went on again.
    expect((await mount({}, 'twice', false, '05-01', { tag: 'T-2' })).status).toBe(201);
    expect((await mount(named('T-2'), 'twice', true, '05-02')).status).toBe(201);
    const tagged = { what: 'tagged', ...named('T-2'), ...frame('04-01'), tag: 'T-2' };
    expect((await brackwater('POST', '/v1/movements', tagged)).status).toBe(201);
    const { findings, mounted } = (await mustGoWell(brackwater('GET', `/v1/controls/${maker}/T-2`))).body.control;
    expect(findings.map((one: Json) => one.rule)).not.toContain('on-two-pumps');
    expect(mounted).toBe(null);
  });

  it('of another unit are refused, late or not', async () => {
    await nameless('taken');
    const answer = await mount({}, 'taken', false, '05-01', { tag: 'T-2' });
    expect(answer.body).toMatchObject({ status: 409, findings: [{ rule: 'name-taken', pointer: '/tag' }] });
  });
});

describe('what the shop has stated since', () => {
  it('is known to the work that was done before: instruments, people, lots and shops', async () => {
    await registerControl(brackwater, 'stock', 'load-sense-bled');
    const work = await conversionOf(brackwater, 'stock', 'load-sense', {
      reference: 'stock',
      performedAt: day('04-01'),
    });
    const text = JSON.stringify(work)
      .replaceAll('"tw-3"', '"tw-late"')
      .replaceAll('"t-17"', '"t-late"')
      .replaceAll('"L-1"', '"L-late"')
      .replaceAll('"north"', '"late-yard"');
    expect((await brackwater('POST', '/v1/conversions', text)).status).toBe(409);
    await mustGoWell(brackwater('PUT', '/v1/shops/late-yard', { name: 'late-yard' }));
    await mustGoWell(brackwater('PUT', '/v1/technicians/t-late', { name: 'B. Example' }));
    await mustGoWell(brackwater('PUT', '/v1/instruments/tw-late', { kind: 'torque-wrench', how: 'set' }));
    await mustGoWell(brackwater('PUT', '/v1/lots/ardenholm/L-late', { part: 'bought-loose' }));
    expect((await brackwater('POST', '/v1/conversions', text)).status).toBe(201);
  });
});

describe('an exchange that is told late', () => {
  it('is judged by what was on the pump then', async () => {
    await registerPair(brackwater, 'first');
    await registerControl(brackwater, 'second', 'load-sense-bled');
    const swap = (control: string, date: string) =>
      brackwater('POST', '/v1/identities', {
        what: 'exchanged',
        reason: 'seen on it',
        ...onPump('first'),
        ...onControl(control),
        ...frame(date),
      });
    await mustGoWell(mount(onControl('first'), 'first', false, '06-01'));
    await mustGoWell(mount(onControl('second'), 'first', true, '06-02'));
    // In May somebody had put the second on it unrecorded, and the first back.
    expect((await swap('second', '05-01')).status).toBe(201);
    expect(await holdsOn('first')).toContain('on-two-pumps');
    expect((await swap('first', '05-10')).status).toBe(201);
    expect(await holdsOn('first')).not.toContain('on-two-pumps');
    const pump = await unitFor(brackwater, 'pump', 'first');
    expect(pump.mounted.name).toBe('K-second');
  });
});

describe('work before a unit went out of use', () => {
  it('is taken after that was recorded', async () => {
    await registerControl(brackwater, 'retired', 'load-sense-bled');
    await post('/v1/retirements', { ...onControl('retired'), ...frame('06-01'), reason: 'worn' });
    expect((await post('/v1/inspections', inspectionOf('retired', frame('05-01')))).status).toBe('released');
    expect((await brackwater('POST', '/v1/inspections', inspectionOf('retired', frame('06-02')))).status).toBe(409);
  });

  it('that hands over a due which later work made good is told late too', async () => {
    await registerPair(brackwater, 'due', 'load-sense-bled');
    const sheet = (await mustGoWell(brackwater('GET', `/v1/controls/${maker}/K-due/job-sheet?function=load-sense`)))
      .body;
    const { checks, ...book } = byTheBook(sheet);
    const leak = checks.find((one: Json) => one.check !== 'make-safe').check;
    const work = { ...onControl('due'), ...book, ...frame('04-01'), to: { function: 'load-sense' } };
    const left = checks.filter((one: Json) => one.check !== leak);
    await post('/v1/conversions', { ...work, checks: left });
    await post('/v1/tests', {
      ...onControl('due'),
      ...frame('06-01'),
      edition: '2026-1',
      checks: [{ check: leak, result: 'passed' }],
    });
    const handedOver = { acceptedBy: 'Harbour Works', dues: [{ check: leak }] };
    const delivered = { what: 'delivered', ...onPump('due'), ...frame('05-01'), to: 'Harbour Works', handedOver };
    expect((await brackwater('POST', '/v1/movements', delivered)).status).toBe(201);
  });
});
