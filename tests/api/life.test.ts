/** A unit's life off the bench: tags given, running hours, dues that somebody takes over, and its end. */
import { describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { rowsOf } from '../support/rows.ts';
import { mustGoWell, pumpWith } from '../support/scene.ts';
import { type Caller, testService } from '../support/service.ts';
import {
  onControl as control,
  conversionOf,
  edition,
  inspectionOf,
  maker,
  openShops,
  onPump as pump,
  registerControl,
  registerPair,
  unitFor,
} from '../support/shop.ts';

const db = await testDatabase();
const service = await testService(db);
const { brackwater, tollan, analyst } = await openShops(service);
type Json = Awaited<ReturnType<Caller>>['body'];

const day = (date: string) => `2026-04-${date}T08:00:00Z`;
const h = (value: string) => ({ value, unit: 'h' });
const unitOf = (kind: 'pump' | 'control', number: string, shop = brackwater): Promise<Json> =>
  unitFor(shop, kind, number);
let count = 0;
function say(path: string, date: string, rest: object, key?: string) {
  count += 1;
  const frame = { reference: `L-${count}`, performedAt: day(date), shop: 'north', technician: 't-17' };
  return brackwater('POST', `/v1/${path}`, { ...frame, ...rest }, key);
}
const look = async (number: string, date: string, rest: object = {}) => {
  count += 1;
  const frame = { reference: `L-${count}`, performedAt: day(date) };
  return await brackwater('POST', '/v1/inspections', { ...inspectionOf(number, frame), ...rest });
};
const rulesOf = ({ status, body }: Awaited<ReturnType<Caller>>) => [
  status,
  ...(body.findings ?? []).map((one: Json) => `${one.rule} ${one.pointer}`),
];

describe('a control without a serial', () => {
  it('gets a tag where it is on its pump, by which it is found and moved', async () => {
    await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-tag`, pumpWith({ function: 'load-sense' })));
    const tagged = await mustGoWell(say('movements', '01', { what: 'tagged', ...pump('tag'), tag: ' box 7 ' }));
    const { unit } = (await unitOf('pump', 'tag')).mounted;
    expect(tagged.body).toMatchObject({ control: { unit, name: 'box 7' }, pump: null });
    const byTag = { control: { maker, tag: 'BOX 7' } };
    const moved = (await mustGoWell(say('movements', '02', { what: 'received', ...byTag }))).body;
    expect(moved).toMatchObject({ control: { unit, name: 'box 7' }, pump: { name: 'P-tag' } });
    expect((await unitOf('pump', 'tag')).custody.record).toBe(moved.id);
    expect(rulesOf(await say('movements', '03', { what: 'tagged', ...byTag, tag: 'box 8' }))).toEqual([
      409,
      'named-already /tag',
    ]);
  });

  it('gets no tag that another has, and a bare pump gets none', async () => {
    await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-two`, pumpWith({ function: 'load-sense' })));
    await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-bare`, pumpWith(null)));
    const tag = (number: string, name: string) =>
      say('movements', '01', { what: 'tagged', ...pump(number), tag: name });
    expect(rulesOf(await tag('two', 'box 7'))).toEqual([409, 'name-taken /tag']);
    expect(rulesOf(await tag('bare', 'box 9'))).toEqual([409, 'unknown-id /pump']);
    expect((await say('movements', '01', { what: 'tagged', ...pump('two') })).body.errors).toMatchObject([
      { pointer: '/tag' },
    ]);
    const received = await say('movements', '01', { what: 'received', ...pump('two'), tag: 'box 9' });
    expect(received.body.control.name).toBe('box 9');
  });
});

describe('running hours', () => {
  it('are kept with the unit that is named, as last stated in the order of work, and noted where they went back', async () => {
    await registerPair(brackwater, 'run');
    const first = (await look('run', '02', { hours: h('120.5') })).body;
    expect((await unitOf('control', 'run')).hours).toEqual({ ...h('120.5'), record: first.id });
    expect((await unitOf('pump', 'run')).hours).toBe(null);
    const { control: _, ...onPump } = inspectionOf('run', { reference: 'run-p', performedAt: day('03') });
    const ofPump = { ...onPump, ...pump('run'), hours: { value: '900000', unit: 's' } };
    expect(rulesOf(await brackwater('POST', '/v1/inspections', ofPump))).toEqual([201]);
    expect((await unitOf('pump', 'run', tollan)).hours).toMatchObject({ value: '900000', unit: 's' });
    const back = await say('movements', '04', { what: 'received', ...pump('run'), hours: h('249.9') });
    expect(rulesOf(back)).toEqual([201, 'hours-went-back /hours']);
    expect((await unitOf('pump', 'run')).hours).toMatchObject(h('249.9'));
    expect(rulesOf(await look('run', '01', { hours: h('130') }))).toEqual([201, 'hours-went-back /hours']);
    expect((await unitOf('control', 'run')).hours).toMatchObject(h('120.5'));
  });

  it('begin with those that a registration states', async () => {
    const seen = { ...pumpWith(null), hours: h('4000') };
    const { id } = (await mustGoWell(brackwater('PUT', `/v1/pumps/${maker}/P-old`, seen))).body;
    expect((await unitOf('pump', 'old')).hours).toEqual({ ...h('4000'), record: id });
  });

  it('are a time, and not less than none', async () => {
    await registerPair(brackwater, 'neg');
    for (const [hours, pointer] of [
      [{ value: '5', unit: 'bar' }, '/hours/unit'],
      [h('-1'), '/hours/value'],
    ] as const) {
      const { status, body } = await look('neg', '02', { hours });
      expect([status, body.errors.map((one: Json) => one.pointer)]).toEqual([400, [pointer]]);
    }
  });
});

describe('a start-up', () => {
  const startUp = (number: string, date: string, dues: object[]) =>
    say('start-ups', date, {
      ...{ ...pump(number), machine: 'press 4 of Harbour Works', note: 'runs quietly' },
      circuit: { 'signal-pressure': { value: '180', unit: 'bar' } },
      ...(dues.length > 0 && { handedOver: { acceptedBy: 'plant engineer of Harbour Works', dues } }),
    });
  /** Converted with everything but the leak and function tests and one setting. */
  async function withDues(number: string): Promise<Json> {
    await registerPair(brackwater, number);
    const body: Json = await conversionOf(brackwater, number, 'load-sense', {
      reference: number,
      performedAt: day('02'),
    });
    const checks = body.checks.filter((one: Json) => !['leak-free', 'function-check'].includes(one.check));
    const settings = body.settings.filter((one: Json) => one.setting !== 'differential');
    return (await mustGoWell(brackwater('POST', '/v1/conversions', { ...body, checks, settings }))).body;
  }
  const openOn = async (number: string, shop = brackwater) => {
    const { status, findings } = await unitOf('control', number, shop);
    return [status, ...findings.map((one: Json) => [one.clearedBy[0].place, one.handedOver ?? null]).sort()];
  };

  it('hands over what is due, which then no longer makes the unit incomplete and stays until it is done', async () => {
    const { id } = await withDues('over');
    expect(await openOn('over')).toEqual([
      'incomplete',
      ['differential', null],
      ['function-check', null],
      ['leak-free', null],
    ]);
    const some = await startUp('over', '03', [{ check: 'leak-free' }, { setting: 'differential' }]);
    // What it states of the circuit is not what the function's relations ask for.
    const unknown = 'relation-unknown /circuit';
    expect(rulesOf(some)).toEqual([201, unknown, unknown]);
    expect(await openOn('over')).toEqual([
      'incomplete',
      ['differential', some.body.id],
      ['function-check', null],
      ['leak-free', some.body.id],
    ]);
    const rest = (await mustGoWell(startUp('over', '04', [{ record: id, rule: 'check-due' }]))).body;
    const handed = ['released', ['differential', some.body.id], ['function-check', rest.id], ['leak-free', rest.id]];
    expect(await openOn('over')).toEqual(handed);
    expect(await openOn('over', tollan)).toEqual(handed);
    const record = (await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body;
    expect([record.status, record.open.length, record.judgement.status]).toEqual(['released', 3, 'incomplete']);
    const checks = [
      { check: 'make-safe', result: 'passed' },
      { check: 'leak-free', result: 'passed' },
      { check: 'function-check', result: 'passed' },
    ];
    await mustGoWell(say('tests', '05', { ...pump('over'), edition, checks }));
    expect(await openOn('over')).toEqual(['released', ['differential', some.body.id]]);
  });

  it('need not be waited for: dues go over with the delivery, by the same checks, and who accepted is private', async () => {
    await withDues('away');
    const deliver = (check: string) =>
      say('movements', '03', {
        ...{ what: 'delivered', ...pump('away'), to: 'Harbour Works' },
        handedOver: { acceptedBy: 'plant engineer of Harbour Works', dues: [{ check }, { setting: 'differential' }] },
      });
    expect(rulesOf(await deliver('make-safe'))).toEqual([409, 'not-due /handedOver/dues/0']);
    const { id } = (await mustGoWell(deliver('leak-free'))).body;
    expect(await openOn('away')).toEqual([
      'incomplete',
      ['differential', id],
      ['function-check', null],
      ['leak-free', id],
    ]);
    const record = (await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body;
    const accepted = { acceptedBy: 'plant engineer of Harbour Works' };
    expect(record.private).toEqual({ to: 'Harbour Works', handedOver: accepted });
    expect(record.statement.handedOver).toEqual({ dues: [{ check: 'leak-free' }, { setting: 'differential' }] });
    const back = await say('movements', '04', {
      ...{ what: 'returned', ...pump('away') },
      handedOver: { ...accepted, dues: [{ check: 'function-check' }] },
    });
    expect([back.status, back.body.errors]).toMatchObject([400, [{ pointer: '/handedOver' }]]);
  });

  it('hands over nothing that is not due: not what is done, nor what holds, nor what comes later', async () => {
    await withDues('not');
    expect(rulesOf(await startUp('not', '03', [{ check: 'leak-free' }, { check: 'make-safe' }]))).toEqual([
      409,
      'not-due /handedOver/dues/1',
    ]);
    expect(rulesOf(await startUp('not', '01', [{ check: 'leak-free' }]))).toEqual([409, 'not-due /handedOver/dues/0']);
    await registerPair(brackwater, 'hold');
    const torques = [{ joint: 'side-cap-body', how: 'set', reading: { value: '1', unit: 'N.m' }, instrument: 'tw-3' }];
    const { id } = (await look('hold', '02', { torques })).body;
    expect((await unitOf('control', 'hold')).status).toBe('held');
    expect(rulesOf(await startUp('hold', '03', [{ record: id, rule: 'torque-outside' }]))).toEqual([
      409,
      'not-due /handedOver/dues/0',
    ]);
  });

  it('keeps apart what names a customer, where it can be erased, and for the shop alone', async () => {
    await withDues('apart');
    const { id } = (await mustGoWell(startUp('apart', '03', [{ check: 'leak-free' }]))).body;
    const record = (await mustGoWell(brackwater('GET', `/v1/records/${id}`))).body;
    expect(record.private).toEqual({
      ...{ machine: 'press 4 of Harbour Works', note: 'runs quietly' },
      handedOver: { acceptedBy: 'plant engineer of Harbour Works' },
    });
    expect(record.statement).toMatchObject({
      circuit: { 'signal-pressure': { value: '180', unit: 'bar' } },
      handedOver: { dues: [{ check: 'leak-free' }] },
    });
    const moved = (
      await mustGoWell(
        say('movements', '04', { what: 'delivered', ...pump('apart'), from: { shop: 'north' }, to: 'Harbour Works' }),
      )
    ).body;
    expect((await mustGoWell(brackwater('GET', `/v1/records/${moved.id}`))).body).toMatchObject({
      private: { to: 'Harbour Works' },
      statement: { from: { shop: 'north' } },
    });
    for (const one of [id, moved.id]) {
      expect((await mustGoWell(analyst('GET', `/v1/records/${one}`))).text).not.toContain('Harbour');
    }
    expect(await rowsOf(db, "select from facts where statement || judgement || origin like '%Harbour%'")).toEqual([]);
    expect(await rowsOf(db, "select from unit_events where effect like '%Harbour%'")).toEqual([]);
  });
});

describe('a retired unit', () => {
  it('takes no more work and is not started up, but may be moved, and taken off', async () => {
    await registerPair(brackwater, 'end');
    const { id } = (await mustGoWell(say('retirements', '05', { ...pump('end'), reason: 'cracked housing' }))).body;
    const retired = { record: id, since: '2026-04-05T08:00:00.000000Z' };
    expect((await unitOf('pump', 'end', tollan)).retired).toEqual(retired);
    expect((await unitOf('control', 'end')).retired).toBe(null);
    expect(rulesOf(await look('end', '06'))).toEqual([409, 'unit-retired /pump']);
    expect(rulesOf(await say('start-ups', '06', { ...pump('end'), machine: 'press 4' }))).toEqual([
      409,
      'unit-retired /pump',
    ]);
    expect(rulesOf(await say('retirements', '06', { ...pump('end'), reason: 'again' }))).toEqual([
      409,
      'unit-retired /pump',
    ]);
    expect(rulesOf(await say('movements', '06', { what: 'delivered', ...pump('end') }))).toEqual([201]);
    expect(rulesOf(await look('end', '04'))).toEqual([201]);
    const off = { ...control('end'), ...pump('end'), edition, on: false };
    expect((await say('mountings', '07', off)).status).toBe(201);
    // Of the control alone nothing is said: it goes on.
    expect((await look('end', '08', { shop: 'north' })).status).toBe(201);
  });

  it('takes corrections of what was done before, and is in use again where its retirement is void', async () => {
    await registerControl(brackwater, 'back');
    const body = inspectionOf('back', { reference: 'back', performedAt: day('03') });
    const { id } = (await mustGoWell(brackwater('POST', '/v1/inspections', body))).body;
    const retirement = (await mustGoWell(say('retirements', '05', { ...control('back'), reason: 'scored bore' }))).body;
    const corrected = { kind: 'inspection', reason: 'note left out', body: { ...body, note: 'a scratch' } };
    expect((await brackwater('POST', `/v1/records/${id}/corrections`, corrected)).status).toBe(201);
    const undone = { kind: 'void', reason: 'another control' };
    await mustGoWell(brackwater('POST', `/v1/records/${retirement.id}/corrections`, undone));
    expect((await unitOf('control', 'back')).retired).toBe(null);
    expect((await look('back', '06')).status).toBe(201);
  });

  it('is not retired before work that is recorded of it', async () => {
    await registerControl(brackwater, 'early');
    await mustGoWell(look('early', '06'));
    expect(rulesOf(await say('retirements', '05', { ...control('early'), reason: 'scored' }))).toEqual([
      409,
      'work-after-retirement /performedAt',
    ]);
    expect(rulesOf(await say('retirements', '07', { ...control('early'), reason: 'scored' }))).toEqual([201]);
  });
});

describe('each of the three', () => {
  const bodies = {
    movements: { what: 'received', ...control('each') },
    'start-ups': { ...control('each'), machine: 'press 4' },
    retirements: { ...control('each'), reason: 'scored bore' },
  };

  it.each(Object.entries(bodies))(
    'of /v1/%s counts once under its key and reference, is judged without being written, and is an attempt where it is refused',
    async (path, body) => {
      const number = `each-${path}`;
      await registerControl(brackwater, number);
      const sent = { ...body, ...control(number), reference: 'each', performedAt: day('09'), shop: 'north' };
      const complete = { ...sent, technician: 't-17', attachments: [] };
      const checked = await brackwater('POST', `/v1/${path}?check=only`, complete, null);
      const first = await brackwater('POST', `/v1/${path}`, complete, `key-${path}`);
      const again = await brackwater('POST', `/v1/${path}`, complete, `key-${path}`);
      expect([checked.status, first.status, again.status, again.text]).toEqual([200, 201, 201, first.text]);
      const { id, receipt, ...rest } = first.body;
      expect(checked.body).toEqual(rest);
      expect(receipt.subjects).toHaveLength(1);
      const unknown = {
        ...complete,
        shop: 'east',
        technician: 't-99',
        after: service.app.effects.newId(),
        performedAt: '2099-01-01T00:00:00Z',
      };
      const refused = await brackwater('POST', `/v1/${path}`, unknown);
      expect(rulesOf(refused)).toEqual([
        409,
        ...['unknown-id /shop', 'unknown-id /technician', 'unknown-id /after', 'reference-used /reference'],
        'performed-in-future /performedAt',
        ...(path === 'retirements' ? ['unit-retired /control'] : []),
      ]);
      const attempts = (await mustGoWell(brackwater('GET', '/v1/attempts?first=200'))).body.items;
      expect(attempts.at(-1)).toMatchObject({ kind: path.slice(0, -1), body: unknown });
      expect(rulesOf(await brackwater('POST', `/v1/${path}`, { ...complete, ...control('nowhere') }))).toEqual([
        409,
        'unknown-id /control',
      ]);
      expect((await brackwater('POST', `/v1/${path}`, { ...complete, ...pump('x') })).body.errors).toMatchObject([
        { pointer: '/control' },
      ]);
    },
  );
});

describe('a correction', () => {
  it('puts another movement, start-up or retirement of the same unit in the place of the record', async () => {
    await registerControl(brackwater, 'corr');
    await registerControl(brackwater, 'corr-2');
    const body = { ...control('corr'), reference: 'corr', performedAt: day('02'), shop: 'north', technician: 't-17' };
    const out = { ...body, what: 'delivered', to: 'Harbour Works' };
    const { id } = (await mustGoWell(brackwater('POST', '/v1/movements', out))).body;
    const worked = (await mustGoWell(look('corr', '03'))).body;
    expect(worked.findings.map((one: Json) => one.rule)).toEqual(['not-in-custody']);
    const correct = (of: string, kind: string, rest: object) =>
      brackwater('POST', `/v1/records/${of}/corrections`, { kind, reason: 'mixed up', body: rest });
    expect(rulesOf(await correct(id, 'movement', { ...out, ...control('corr-2') }))).toEqual([409, 'other-unit /body']);
    expect(rulesOf(await correct(id, 'movement', { ...out, shop: 'east' }))).toEqual([409, 'unknown-id /body/shop']);
    const right = await mustGoWell(correct(id, 'movement', { ...out, what: 'received', to: 'the shelf' }));
    expect(right.body).toMatchObject({ replaces: id, control: { name: 'K-corr' }, pump: null, findings: [] });
    const { custody, status } = await unitOf('control', 'corr');
    expect([custody.record, custody.is, status]).toEqual([right.body.id, 'in', 'released']);
    const record = (await mustGoWell(brackwater('GET', `/v1/records/${right.body.id}`))).body;
    expect([record.private, record.statement.body.to]).toEqual([{ to: 'the shelf' }, undefined]);

    const retired = { ...body, reason: 'scored', performedAt: day('05') };
    const first = (await mustGoWell(brackwater('POST', '/v1/retirements', retired))).body;
    const later = { ...retired, performedAt: day('06') };
    const second = (await mustGoWell(correct(first.id, 'retirement', later))).body;
    expect((await unitOf('control', 'corr')).retired).toEqual({
      record: second.id,
      since: '2026-04-06T08:00:00.000000Z',
    });
  });
});
