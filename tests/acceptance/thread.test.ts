/** Black box: from a catalogue to a traced pump, over HTTP. Imports nothing from src. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { addOrganisations, type Caller, type RunningService, startService } from '../support/running-service.ts';
import { block, byTheBook, mustGoWell, publish, pumpWith, shopScopes, stockUp } from '../support/scene.ts';

const db = await testDatabase();
let service: RunningService;
let shop: Caller;
let other: Caller;
let analyst: Caller;

beforeAll(async () => {
  await addOrganisations(db, { ardenholm: 'maker', brackwater: 'distributor', tollan: 'distributor' });
  service = await startService(db);
  await publish(await service.caller({ maker: 'ardenholm' }, ['catalogue:publish']));
  shop = await service.caller({ distributor: 'brackwater', subject: 'lead' }, shopScopes);
  other = await service.caller({ distributor: 'tollan' }, shopScopes);
  analyst = await service.caller({ maker: 'ardenholm' }, ['warranty:read']);
  await stockUp(shop);
  await mustGoWell(shop('PUT', '/v1/pumps/ardenholm/P-1', pumpWith({ serial: 'K-1', function: 'load-sense-bled' })));
  await mustGoWell(shop('PUT', '/v1/pumps/ardenholm/P-2', pumpWith({ serial: 'K-2', function: 'load-sense' })));
  await mustGoWell(
    shop('PUT', '/v1/controls/ardenholm/K-3', {
      edition: '2026-1',
      performedAt: '2026-03-02T08:00:00+01:00',
      ...block('load-sense'),
      for: { size: '83', rotation: 'clockwise' },
    }),
  );
});
afterAll(async () => {
  expect(await service.stop()).toBe(0);
});

const sheetFor = async (control: string) =>
  (await mustGoWell(shop('GET', `/v1/controls/ardenholm/${control}/job-sheet?function=remote-pressure`))).body;
const conversion = async (control: string, performedAt: string, change: object = {}) => ({
  control: { maker: 'ardenholm', serial: control },
  reference: `R-${control}`,
  performedAt,
  to: { function: 'remote-pressure' },
  ...byTheBook(await sheetFor(control)),
  ...change,
});

describe('from a catalogue to a traced pump', () => {
  it('the job sheet begins with cautions, and lists what only this start needs', async () => {
    const bled = await sheetFor('K-1');
    const unbled = await sheetFor('K-2');
    const stations = (sheet: { changes: { station: string }[] }) => sheet.changes.map((one) => one.station);
    expect(bled.cautions.length).toBeGreaterThan(5);
    expect(bled.steps[0].action).toBe('make-safe');
    expect(stations(bled)).toContain('bleed-seat');
    expect(stations(unbled)).toEqual(stations(bled).filter((station) => station !== 'bleed-seat'));
  });

  it('a record with a part left in is refused, kept as an attempt, and posted again complete it is released', async () => {
    const complete = await conversion('K-1', '2026-03-14T10:25:00+01:00');
    const refused = await shop('POST', '/v1/conversions', { ...complete, removed: complete.removed.slice(1) });
    expect(refused.status).toBe(409);
    expect(refused.body.code).toBe('refused-by-rules');
    expect(refused.body.findings.map((one: { rule: string }) => one.rule)).toEqual(['two-in-one-seat']);
    const attempts = await mustGoWell(shop('GET', '/v1/attempts'));
    expect(attempts.body.items).toHaveLength(1);
    const released = await shop('POST', '/v1/conversions', complete);
    expect(released.body).toMatchObject({ status: 'released', function: 'remote-pressure' });
  });

  it('a control converted on the shelf is incomplete until it is mounted, set and tested by another distributor', async () => {
    const converted = await shop('POST', '/v1/conversions', await conversion('K-3', '2026-03-15T09:00:00+01:00'));
    expect(converted.body.status).toBe('incomplete');
    await stockUp(other);
    await mustGoWell(other('PUT', '/v1/pumps/ardenholm/P-9', pumpWith(null)));
    const sheet = await mustGoWell(other('GET', '/v1/controls/ardenholm/K-3/mounting-sheet?pump=ardenholm/P-9'));
    const { sheet: _, ...work } = byTheBook(sheet.body);
    const mounted = await other('POST', '/v1/mountings', {
      control: { maker: 'ardenholm', serial: 'K-3' },
      pump: { maker: 'ardenholm', serial: 'P-9' },
      on: true,
      reference: 'T-1',
      performedAt: '2026-04-20T13:00:00+02:00',
      ...work,
    });
    expect(mounted.body.status).toBe('released');
    const record = await mustGoWell(shop('GET', `/v1/records/${converted.body.id}`));
    expect(record.body.status).toBe('released');
    expect(record.body.judgement.status).toBe('incomplete');
  });

  it('one torque outside holds the record; the same record with it inside is released', async () => {
    const good = await conversion('K-2', '2026-03-16T09:00:00+01:00');
    const torques = good.torques.map((one: { joint: string }) =>
      one.joint === 'sense-adjuster-body' ? { ...one, reading: { value: '48.0', unit: 'N.m' } } : one,
    );
    const judgedGood = await shop('POST', '/v1/conversions?check=only', good);
    expect(judgedGood.body.status).toBe('released');
    const held = await shop('POST', '/v1/conversions', { ...good, torques });
    expect(held.body.status).toBe('held');
    const [finding] = held.body.findings.filter((one: { severity: string }) => one.severity === 'hold');
    expect(finding).toMatchObject({
      rule: 'torque-outside',
      clearedBy: [{ kind: 'torque', place: 'sense-adjuster-body' }, { kind: 'disposition' }],
    });
    await mustGoWell(
      shop('POST', '/v1/adjustments', {
        control: { maker: 'ardenholm', serial: 'K-2' },
        reference: 'R-good',
        performedAt: '2026-03-16T15:00:00+01:00',
        edition: '2026-1',
        shop: 'north',
        technician: 't-17',
        torques: [
          { joint: 'sense-adjuster-body', how: 'set', reading: { value: '61', unit: 'N.m' }, instrument: 'tw-3' },
        ],
      }),
    );
    const record = await mustGoWell(shop('GET', `/v1/records/${held.body.id}`));
    expect(record.body.status).toBe('released');
  });

  it('the analyst reads what was in the failed pump that day, and which others share the lot', async () => {
    const day = 'performed=2026-10-12T06:00:00Z';
    const pump = (await mustGoWell(analyst('GET', `/v1/pumps/ardenholm/P-1/history?${day}`))).body;
    expect(pump.mountings).toMatchObject([{ name: 'K-1', to: null }]);
    const control = (await mustGoWell(analyst('GET', `/v1/controls/ardenholm/K-1/history?${day}`))).body;
    expect(control.state).toMatchObject({
      function: 'remote-pressure',
      settings: { differential: { value: '14', unit: 'bar' } },
    });
    const work = control.items.find((one: { kind: string }) => one.kind === 'conversion');
    expect(control.state.fit['pilot-seat']).toMatchObject({ elements: [{ element: 'orifice-0.8' }], since: work.id });
    expect(work.statement.fitted).toContainEqual({
      station: 'pilot-seat',
      element: 'orifice-0.8',
      quantity: 1,
      lot: 'L-1',
    });
    expect(work.statement.torques).toContainEqual(
      expect.objectContaining({ joint: 'pilot-seat-element', instrument: 'tw-3' }),
    );
    expect(work.statement.technician).toMatch(/^[0-9a-f-]{36}$/);
    const before = (
      await mustGoWell(analyst('GET', '/v1/controls/ardenholm/K-1/history?performed=2026-03-10T00:00:00Z'))
    ).body;
    expect(before.state.function).toBe('load-sense-bled');
    const reach = (await mustGoWell(analyst('GET', '/v1/reach?lot=ardenholm/L-1&first=200'))).body;
    const under = Object.fromEntries(
      reach.items
        .filter((one: { kind: string }) => one.kind === 'control')
        .map((one: { name: string; mounted: { name: string } }) => [one.name, one.mounted?.name]),
    );
    expect(under).toEqual({ 'K-1': 'P-1', 'K-2': 'P-2', 'K-3': 'P-9' });
  });

  it('another distributor sees the function and the fit, and nobody, no lot and no note', async () => {
    const seen = await mustGoWell(other('GET', '/v1/controls/ardenholm/K-1'));
    expect(seen.body.control.function).toBe('remote-pressure');
    const history = await mustGoWell(other('GET', '/v1/controls/ardenholm/K-1/history'));
    expect(history.body.items.map((one: { statement: unknown }) => one.statement)).toEqual([null, null]);
    expect(history.text + seen.text).not.toMatch(/L-1|tw-3|t-17|north/);
    const past = await other('GET', '/v1/controls/ardenholm/K-1/history?performed=2026-03-10T00:00:00Z');
    expect([past.status, past.body.code]).toEqual([403, 'history-restricted']);
  });
});
