/**
 * Black box, over HTTP: one story from a catalogue to a failed pump. It imports nothing of the service. What is
 * expected is read off the edition by hand: the patterns of load-sense, load-sense-bled and remote-pressure on the
 * curlew-block, and the limits of its joints.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import type { Caller } from '../support/over-http.ts';
import { addOrganisations, type RunningService, startService } from '../support/running-service.ts';
import { block, byTheBook, mustGoWell, publish, pumpWith, shopScopes, stockUp } from '../support/scene.ts';
import { usesReached } from '../support/uses-reached.ts';

const db = await testDatabase();
let service: RunningService;
/** Brackwater's shop, Tollan's, and the maker's analyst. */
let north: Caller;
let tollan: Caller;
let analyst: Caller;
/** Ids of records, as the story goes. */
const told: Record<string, string> = {};

beforeAll(async () => {
  await addOrganisations(db, { ardenholm: 'maker', brackwater: 'distributor', tollan: 'distributor' });
  service = await startService(db);
  await publish(await service.caller({ maker: 'ardenholm' }, ['catalogue:publish']));
  north = await service.caller({ distributor: 'brackwater', subject: 'lead' }, shopScopes);
  tollan = await service.caller({ distributor: 'tollan' }, shopScopes);
  analyst = await service.caller({ maker: 'ardenholm' }, ['warranty:read']);
  for (const shop of [north, tollan]) {
    await stockUp(shop);
    await mustGoWell(shop('PUT', '/v1/lots/ardenholm/L-9', { part: 'kit-overhaul-nbr' }));
    for (const lot of ['L-1', 'L-9']) {
      const intake = { reference: lot, performedAt: '2026-03-01T08:00:00+01:00', shop: 'north', quantity: 50 };
      await mustGoWell(shop('POST', `/v1/lots/ardenholm/${lot}/intakes`, intake));
    }
  }
});
afterAll(async () => {
  expect(await service.stop()).toBe(0);
});

const put = async (shop: Caller, path: string, body: object) => (await mustGoWell(shop('PUT', path, body))).body;
const get = async (caller: Caller, path: string) => (await mustGoWell(caller('GET', path))).body;
const sheetFor = (control: string) =>
  get(north, `/v1/controls/ardenholm/${control}/job-sheet?function=remote-pressure`);
/** The record that a sheet asks for: parts of lot L-1, seals of lot L-9. */
const complete = async (control: string, performedAt: string) => {
  const work = byTheBook(await sheetFor(control));
  return {
    control: { maker: 'ardenholm', serial: control },
    reference: `BW-${control}`,
    performedAt,
    to: { function: 'remote-pressure' },
    ...work,
    seals: work.seals.map((one: object) => ({ ...one, lot: 'L-9' })),
  };
};
/** A pump with this control on it, its pressures read. */
const pumpAndControl = (serial: string, fun: string) => {
  const { control, ...pump } = pumpWith({ serial, function: fun });
  const bar = (value: string) => ({ value, unit: 'bar' });
  return { ...pump, control: { ...control, settings: { 'pressure-limit': bar('210'), differential: bar('14') } } };
};
const convert = (record: object, query = '') => north('POST', `/v1/conversions${query}`, record);
const said = (findings: { rule: string; severity: string; because: string }[]) =>
  findings.map(({ rule, severity, because }) => `${severity} ${rule}: ${because}`);

describe('from a catalogue to a failed pump', () => {
  it('three controls are registered: two on pumps, one on the shelf', async () => {
    const bled = await put(north, '/v1/pumps/ardenholm/P-1', pumpAndControl('K-1', 'load-sense-bled'));
    const unbled = await put(north, '/v1/pumps/ardenholm/P-2', pumpAndControl('K-2', 'load-sense'));
    const shelved = await put(north, '/v1/controls/ardenholm/K-3', {
      edition: '2026-1',
      performedAt: '2026-03-02T08:00:00+01:00',
      ...block('load-sense'),
      for: { size: '83', rotation: 'clockwise' },
    });
    expect([bled, unbled, shelved].map(({ status, function: fun }) => [status, fun])).toEqual([
      ['released', 'load-sense-bled'],
      ['released', 'load-sense'],
      ['released', 'load-sense'],
    ]);
    expect([bled.control.name, bled.pump.name, shelved.control.name]).toEqual(['K-1', 'P-1', 'K-3']);
    told['bled'] = bled.id;
  });

  it('the job sheet of each start says what that start takes, from the cautions to the plate', async () => {
    const bled = await sheetFor('K-1');
    const piece = (element: string) => [{ element, quantity: 1 }];
    const changes = [
      { station: 'pilot-seat', out: piece('plug-m5'), in: piece('orifice-0.8') },
      { station: 'sense-bore', out: piece('spool-sense'), in: piece('spool-remote') },
      { station: 'bleed-seat', out: piece('orifice-0.6'), in: piece('plug-m5') },
      { station: 'signal-port', out: piece('port-fitting'), in: piece('port-plug') },
      { station: 'remote-port', out: piece('port-plug'), in: piece('port-fitting') },
    ];
    expect(bled).toMatchObject({
      edition: '2026-1',
      control: { name: 'K-1' },
      pump: { name: 'P-1' },
      from: { function: 'load-sense-bled' },
      to: { function: 'remote-pressure' },
      changes,
      kits: [{ part: 'kit-remote', quantity: 1 }],
      loose: [],
    });
    const joints = [
      'side-cap-body',
      'pilot-seat-element',
      'sense-adjuster-body',
      'sense-adjuster-locknut',
      'bleed-seat-element',
      'signal-port-thread',
      'remote-port-thread',
    ];
    expect(bled.joints.map((one: { joint: string }) => one.joint)).toEqual(joints);
    expect(bled.evidence).toMatchObject({
      torques: joints,
      seals: ['side-cap-body', 'sense-adjuster-body', 'signal-port-thread', 'remote-port-thread'],
      checks: ['make-safe', 'leak-free', 'function-check', 'plate-marked'],
    });
    expect(bled.cautions[1]).toBe('Stop the drive and lock it out. Isolate the coils.');
    expect([bled.steps[0].action, bled.steps.at(-1).check]).toEqual(['make-safe', 'plate-marked']);
    expect(bled.settings).toMatchObject([
      {
        setting: 'differential',
        min: { value: '10', unit: 'bar' },
        max: { value: '20', unit: 'bar' },
        because: 'disturbed',
      },
    ]);

    const unbled = await sheetFor('K-2');
    expect(unbled.changes).toEqual(changes.filter((one) => one.station !== 'bleed-seat'));
    expect(unbled.joints.map((one: { joint: string }) => one.joint)).toEqual(
      joints.filter((joint) => joint !== 'bleed-seat-element'),
    );
  });

  it('a record with a part left in is refused, kept as an attempt, and the control stays as it was', async () => {
    const record = await complete('K-1', '2026-03-14T10:25:00+01:00');
    const leftIn = record.removed.filter((one: { station: string }) => one.station !== 'bleed-seat');
    const { status, body } = await convert({ ...record, removed: leftIn });
    const finding = 'refuse two-in-one-seat: bleed-seat would hold orifice-0.6 and plug-m5. Say what was taken out.';
    expect([status, body.code, said(body.findings)]).toEqual([409, 'refused-by-rules', [finding]]);
    const { items } = await get(north, '/v1/attempts');
    expect(items).toMatchObject([{ kind: 'conversion', body: { reference: 'BW-K-1', removed: leftIn } }]);
    expect(said(items[0].findings)).toEqual([finding]);
    const { control } = await get(north, '/v1/controls/ardenholm/K-1');
    expect([control.function, control.status]).toEqual(['load-sense-bled', 'released']);
  });

  it('complete, it is released', async () => {
    const { status, body } = await convert(await complete('K-1', '2026-03-14T10:25:00+01:00'));
    expect(status).toBe(201);
    expect(body).toMatchObject({
      control: { maker: 'ardenholm', name: 'K-1' },
      pump: { maker: 'ardenholm', name: 'P-1' },
      status: 'released',
      function: 'remote-pressure',
      findings: [],
    });
    told['work'] = body.id;
  });

  it('on the shelf, it is incomplete until the control is mounted, set and tested, whoever does that', async () => {
    const { body } = await convert(await complete('K-3', '2026-03-15T09:00:00+01:00'));
    expect([body.status, body.pump]).toEqual(['incomplete', null]);
    expect(said(body.findings)).toEqual([
      'due setting-due: pressure-limit is to be set once the control is on a pump.',
      'due setting-due: differential is to be set once the control is on a pump.',
      'due joint-due: sense-adjuster-locknut is to be closed once its setting has been set on a pump.',
      'due check-due: leak-free is to be done once the control is on a pump.',
      'due check-due: function-check is to be done once the control is on a pump.',
      'due check-due: plate-marked is to be done once the control is on a pump.',
    ]);
    await put(tollan, '/v1/pumps/ardenholm/P-9', pumpWith(null));
    const sheet = await get(tollan, '/v1/controls/ardenholm/K-3/mounting-sheet?pump=ardenholm/P-9');
    const { sheet: _, ...work } = byTheBook(sheet);
    const mounted = await tollan('POST', '/v1/mountings', {
      control: { maker: 'ardenholm', serial: 'K-3' },
      pump: { maker: 'ardenholm', serial: 'P-9' },
      on: true,
      reference: 'TO-1',
      performedAt: '2026-04-20T13:00:00+02:00',
      ...work,
      seals: work.seals.map((one: object) => ({ ...one, lot: 'L-9' })),
    });
    expect([mounted.body.status, said(mounted.body.findings)]).toEqual(['released', []]);
    const record = await get(north, `/v1/records/${body.id}`);
    expect([record.status, record.open, record.judgement.status]).toEqual(['released', [], 'incomplete']);
  });

  it('one torque outside its limits holds the record; inside, the same record is released; made good, it is too', async () => {
    const good = await complete('K-2', '2026-03-16T09:00:00+01:00');
    const with48 = good.torques.map((one: { joint: string }) =>
      one.joint === 'sense-adjuster-body' ? { ...one, reading: { value: '48.0', unit: 'N.m' } } : one,
    );
    expect((await convert(good, '?check=only')).body.status).toBe('released');
    expect((await convert({ ...good, torques: with48 }, '?check=only')).body.status).toBe('held');
    const { body: held } = await convert({ ...good, torques: with48 });
    expect([held.status, said(held.findings)]).toEqual([
      'held',
      ['hold torque-outside: sense-adjuster-body was closed with 48.0 N.m; its limits are 58 to 64 N.m.'],
    ]);
    expect(held.findings[0].clearedBy).toEqual([
      { kind: 'torque', place: 'sense-adjuster-body' },
      { kind: 'disposition', place: held.id },
    ]);
    expect((await get(north, '/v1/controls/ardenholm/K-2')).control.status).toBe('held');
    const again = await north('POST', '/v1/adjustments', {
      control: { maker: 'ardenholm', serial: 'K-2' },
      reference: 'BW-again',
      performedAt: '2026-03-16T15:00:00+01:00',
      edition: '2026-1',
      shop: 'north',
      technician: 't-17',
      torques: [
        { joint: 'sense-adjuster-body', how: 'set', reading: { value: '61.0', unit: 'N.m' }, instrument: 'tw-3' },
      ],
    });
    expect([again.body.status, (await get(north, `/v1/records/${held.id}`)).status]).toEqual(['released', 'released']);
    expect((await get(north, '/v1/controls/ardenholm/K-2')).control.status).toBe('released');
  });

  it('pump P-1 fails: the analyst reads what was in it that day, who fitted it, from which lots, closed and set with what', async () => {
    const day = '?performed=2026-10-12T06:00:00Z';
    const pump = await get(analyst, `/v1/pumps/ardenholm/P-1/history${day}`);
    expect(pump.mountings).toMatchObject([{ name: 'K-1', from: '2026-03-02T07:00:00.000000Z', to: null }]);
    const { state, items } = await get(analyst, `/v1/controls/ardenholm/K-1/history${day}`);
    expect([state.function, state.status, state.mounted.name]).toEqual(['remote-pressure', 'released', 'P-1']);
    const { bled, work } = told;
    const piece = (element: string, record: string | undefined, quantity = 1) => ({
      elements: [{ element, quantity }],
      basis: 'seen',
      record,
    });
    expect(state.fit).toMatchObject({
      'pressure-adjuster': piece('adjuster-320', bled),
      'damping-stack': {
        elements: [
          { element: 'washer-damping', quantity: 1 },
          { element: 'shim-0.5', quantity: 2 },
        ],
        record: bled,
      },
      'pilot-seat': piece('orifice-0.8', work),
      'drain-seat': piece('orifice-1.0', bled),
      'vent-seat': { elements: [], record: bled },
      'sense-adjuster': piece('adjuster-sense', bled),
      'sense-spring': piece('spring-sense-16', bled),
      'sense-bore': piece('spool-remote', work),
      'bleed-seat': piece('plug-m5', work),
      'coil-cavity': piece('cartridge-blank', bled),
      'signal-port': piece('port-plug', work),
      'remote-port': piece('port-fitting', work),
      'test-port': piece('test-coupling', bled),
    });
    expect(state.settings).toEqual({
      'pressure-limit': { value: '210', unit: 'bar', record: bled },
      differential: { value: '14', unit: 'bar', record: work },
    });

    expect(items.map((one: { kind: string; id: string }) => [one.kind, one.id])).toEqual([
      ['registration', bled],
      ['conversion', work],
    ]);
    const { statement } = items[1];
    expect(statement.fitted.map((one: Record<string, string>) => [one['station'], one['element'], one['lot']])).toEqual(
      [
        ['pilot-seat', 'orifice-0.8', 'L-1'],
        ['sense-bore', 'spool-remote', 'L-1'],
        ['bleed-seat', 'plug-m5', 'L-1'],
        ['signal-port', 'port-plug', 'L-1'],
        ['remote-port', 'port-fitting', 'L-1'],
      ],
    );
    const set = (joint: string, value: string) => ({
      joint,
      how: 'set',
      reading: { value, unit: 'N.m' },
      instrument: 'tw-3',
    });
    expect(statement.torques).toEqual([
      set('side-cap-body', '34'),
      set('pilot-seat-element', '5.0'),
      set('sense-adjuster-body', '61.0'),
      set('sense-adjuster-locknut', '21'),
      set('bleed-seat-element', '5.0'),
      set('signal-port-thread', '28'),
      set('remote-port-thread', '28'),
    ]);
    expect(statement.settings).toEqual([
      { setting: 'differential', reading: { value: '14', unit: 'bar' }, instrument: 'pg-1' },
    ]);
    expect(statement.shop).toBe('north');
    expect((await get(north, `/v1/records/${work}`)).people).toEqual({ [statement.technician]: 't-17' });
    expect((await get(analyst, `/v1/records/${work}`)).people).toEqual({});

    const before = await get(analyst, '/v1/controls/ardenholm/K-1/history?performed=2026-03-10T00:00:00Z');
    expect([before.state.function, before.state.fit['bleed-seat']]).toEqual([
      'load-sense-bled',
      piece('orifice-0.6', bled),
    ]);
  });

  it('the reach of the lot is every control that parts of it went into, and the pump that each is on now', async () => {
    const { items, pageInfo } = await get(analyst, '/v1/reach?lot=ardenholm/L-1&first=200');
    const uses = usesReached(
      items as (Parameters<typeof usesReached>[0][number] & { mounted: { name: string } })[],
    ).map(({ name, place, item, still, unit }) => [name, place, item, still, unit.mounted.name].join(' '));
    const of = (control: string, pump: string, more: string[]) =>
      [
        'pilot-seat orifice-0.8',
        'sense-bore spool-remote',
        ...more,
        'signal-port port-plug',
        'remote-port port-fitting',
      ].map((use) => `${control} ${use} in ${pump}`);
    expect(uses.toSorted()).toEqual(
      [...of('K-1', 'P-1', ['bleed-seat plug-m5']), ...of('K-3', 'P-9', []), ...of('K-2', 'P-2', [])].toSorted(),
    );
    expect(items.map((one: { still: string }) => one.still)).toEqual(['now', 'now', 'now']);
    expect(pageInfo.hasNextPage).toBe(false);
    const seals = (await get(analyst, '/v1/reach?lot=ardenholm/L-9&first=200')).items;
    expect(
      new Set(usesReached(seals as Parameters<typeof usesReached>[0]).map((one) => [one.role, one.still].join(' '))),
    ).toEqual(new Set(['seal unknown']));
    const own = (await get(tollan, '/v1/reach?lot=ardenholm/L-1&first=200')).items;
    expect(own).toEqual([]);
  });
});
