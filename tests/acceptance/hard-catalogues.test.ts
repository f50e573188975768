/**
 * Black box, over HTTP: catalogues that are hard to say. Electric curves, two pressures under one locknut, springs with
 * shims, orifices that are turned, ports that are filled and emptied: each is published, a pump is registered, its sheet
 * followed, the work recorded and released, another held, and both read back.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import { changed, editionInput } from '../support/editions/editions.ts';
import { type Scene, scenes } from '../support/hard-scenes.ts';
import type { Caller } from '../support/over-http.ts';
import { addOrganisations, type RunningService, startService } from '../support/running-service.ts';
import { mustGoWell, shopScopes } from '../support/scene.ts';
import { usesReached } from '../support/uses-reached.ts';

const db = await testDatabase();
let service: RunningService;
let shop: Caller;

/** Editions of one maker go on from each other; these have nothing to do with each other. */
const makerOf = ({ edition }: Pick<Scene, 'edition'>) => `ardenholm-${edition}`;
const makers = [...new Set(scenes.map(makerOf))];

beforeAll(async () => {
  await addOrganisations(db, { ...Object.fromEntries(makers.map((one) => [one, 'maker'])), brackwater: 'distributor' });
  service = await startService(db);
  for (const { edition } of scenes) {
    const maker = makerOf({ edition });
    const publisher = await service.caller({ maker }, ['catalogue:publish']);
    const input = changed(editionInput(edition), { '/maker': maker });
    await mustGoWell(publisher('PUT', `/v1/catalogue/${maker}/editions/${edition}-1`, input));
  }
  shop = await service.caller({ distributor: 'brackwater' }, shopScopes);
  await mustGoWell(shop('PUT', '/v1/shops/north', { name: 'north yard' }));
  await mustGoWell(shop('PUT', '/v1/technicians/t-17', { name: 'A. Example' }));
  await mustGoWell(shop('PUT', '/v1/instruments/tw-3', { kind: 'torque-wrench', how: 'set' }));
  await mustGoWell(shop('PUT', '/v1/instruments/pg-1', { kind: 'gauge' }));
  await mustGoWell(shop('PUT', '/v1/instruments/bench-1', { kind: 'stand' }));
  for (const maker of makers) {
    await mustGoWell(shop('PUT', `/v1/lots/${maker}/L-1`, { part: 'bought-loose' }));
    const intake = { reference: maker, performedAt: '2026-01-05T08:00:00Z', shop: 'north', quantity: 1000 };
    await mustGoWell(shop('POST', `/v1/lots/${maker}/L-1/intakes`, intake));
  }
});
afterAll(async () => {
  expect(await service.stop()).toBe(0);
});

const pathOf = (scene: Scene, name: string) => `/v1/controls/${makerOf(scene)}/${name}`;

async function register(scene: Scene, name: string): Promise<void> {
  const { body, from, voltage, stations = {}, known } = scene;
  const answer = await shop('PUT', `/v1/pumps/${makerOf(scene)}/P-${name}`, {
    edition: `${scene.edition}-1`,
    performedAt: '2026-03-02T08:00:00+01:00',
    ...{ series: 'curlew', size: '83', rotation: 'clockwise', fluid: 'mineral', basis: 'seen' },
    control: {
      ...{ serial: name, body, function: from, basis: 'seen' },
      stations: Object.fromEntries(Object.entries(stations).map(([station, content]) => [station, { content }])),
      ...(voltage !== undefined && { for: { voltage } }),
      ...(known && { settings: known }),
    },
  });
  expect([answer.status, answer.body.findings]).toEqual([201, []]);
}

async function sheetOf(scene: Scene, name: string) {
  const query = new URLSearchParams({ function: scene.to, ...(scene.voltage && { voltage: scene.voltage }) });
  return (await mustGoWell(shop('GET', `${pathOf(scene, name)}/job-sheet?${query}`))).body;
}

/** The record that a sheet asks for, with what this bench read. */
// biome-ignore lint/suspicious/noExplicitAny: a job sheet as JSON
function recordOf(scene: Scene, name: string, sheet: any) {
  type Joint = {
    joint: string;
    count: number;
    torque: Record<string, object>;
    seals: { seal: string; quantity: number }[];
  };
  type Change = Scene['changes'][number];
  const joints = sheet.joints as Joint[];
  const put = (sheet.changes as Change[]).flatMap(({ station, in: parts }) =>
    parts.map((one) => ({ station, ...one })),
  );
  return {
    control: { maker: makerOf(scene), serial: name },
    reference: `BW-${scene.edition}-${name}`,
    ...{ edition: sheet.edition, sheet: sheet.sheet, shop: 'north', technician: 't-17' },
    performedAt: '2026-03-14T10:25:00+01:00',
    ...(scene.voltage && { for: { voltage: scene.voltage } }),
    to: { function: scene.to },
    removed: (sheet.changes as Change[]).flatMap(({ station, out }) => out.map((one) => ({ station, ...one }))),
    fitted: [...put, ...(scene.besides ?? [])].map((one) => ({
      ...one,
      ...(!one.element.startsWith('shim') && { lot: 'L-1' }),
    })),
    seals: joints.flatMap(({ joint, seals }) =>
      seals.map(({ seal, quantity }) => ({ joint, seal: `${seal}-nbr`, quantity, lot: 'L-1' })),
    ),
    torques: joints.map(({ joint, count, torque }) => {
      const reading = torque['target'];
      return { joint, how: 'set', reading: count === 1 ? reading : Array(count).fill(reading), instrument: 'tw-3' };
    }),
    settings: Object.entries(scene.settings).map(([setting, one]) => ({ setting, instrument: 'pg-1', ...one })),
    checks: sheet.evidence.checks.map((check: string) => ({ check, result: 'passed' })),
  };
}

const rulesOf = (body: { findings: { rule: string }[] }) => [...new Set(body.findings.map(({ rule }) => rule))];

describe.each(scenes)('$edition: from $from to $to', (scene) => {
  const at = scenes.indexOf(scene);
  const name = `K-${at}`;
  const other = `K-${at}-held`;

  it('is planned as the catalogue has it', async () => {
    for (const one of [name, other]) await register(scene, one);
    const { changes, evidence } = await sheetOf(scene, name);
    expect(changes).toEqual(scene.changes);
    expect(evidence.torques).toEqual(scene.torques);
    expect(evidence.settings.toSorted()).toEqual(Object.keys(scene.settings).sort());
  });

  it('is judged by what its settings and joints mean', async () => {
    const record = recordOf(scene, name, await sheetOf(scene, name));
    for (const [pointer, value, rules] of scene.instead) {
      const answer = await shop('POST', '/v1/conversions?check=only', changed(record, { [pointer]: value }));
      expect(rulesOf(answer.body), `${pointer} ${JSON.stringify(value)}`).toEqual(rules);
    }
  });

  it('is released when all is as it should be, and reads back so', async () => {
    const record = recordOf(scene, name, await sheetOf(scene, name));
    const { status, body } = await shop('POST', '/v1/conversions', record);
    expect([status, body.status, body.findings]).toEqual([201, 'released', []]);

    const { control } = (await mustGoWell(shop('GET', pathOf(scene, name)))).body;
    expect([control.function, control.status]).toEqual([scene.to, 'released']);
    for (const { station } of scene.changes) {
      const put = record.fitted.filter((one) => one.station === station).map(({ element }) => element);
      const held = control.fit[station].elements.map(({ element }: { element: string }) => element);
      expect(held, station).toEqual(expect.arrayContaining(put));
      if (put.length === 0) expect(held, station).toEqual([]);
    }
    for (const [setting, { reading }] of Object.entries(scene.settings)) {
      expect(control.settings[setting], setting).toMatchObject(reading);
    }
    const again = await sheetOf(scene, name);
    expect([again.changes, again.joints, again.steps]).toEqual([[], [], []]);
  });

  it('is held for what is wrong with it, and released once that is made good', async () => {
    const record = recordOf(scene, other, await sheetOf(scene, other));
    const [pointer = '', value, rules = []] = scene.instead.findLast(([, , [rule = '']]) => holds.includes(rule)) ?? [];
    const { body } = await mustGoWell(shop('POST', '/v1/conversions', changed(record, { [pointer]: value })));
    expect([body.status, rulesOf(body)]).toEqual(['held', rules]);
    const good = {
      ...{ reference: `${record.reference}-again`, performedAt: '2026-03-15T08:00:00+01:00' },
      ...{ control: record.control, edition: record.edition, shop: record.shop, technician: record.technician },
      ...{ torques: record.torques, settings: record.settings, seals: record.seals },
      checks: [{ check: 'make-safe', result: 'passed' }],
    };
    const adjusted = await mustGoWell(shop('POST', '/v1/adjustments', good));
    expect([adjusted.body.status, adjusted.body.findings]).toEqual(['released', []]);
    expect((await mustGoWell(shop('GET', pathOf(scene, other)))).body.control.status).toBe('released');
  });

  it('is in the history, and in the reach of the lot that its parts came from', async () => {
    const { items, state } = (await mustGoWell(shop('GET', `${pathOf(scene, name)}/history`))).body;
    expect(items.map((one: { kind: string }) => one.kind)).toEqual(['registration', 'conversion']);
    expect(state).toMatchObject({ function: scene.to, status: 'released' });
    const lot = (await mustGoWell(shop('GET', `/v1/reach?lot=${makerOf(scene)}/L-1&first=200`))).body.items;
    const mine = usesReached(lot as Parameters<typeof usesReached>[0])
      .filter((one) => one.name === name)
      .map((one) => one.place);
    const put = scene.changes.filter((one) => one.in.length > 0).map(({ station }) => station);
    expect(mine).toEqual(expect.arrayContaining(put));
  });
});

describe('a number of pieces that the function leaves open', () => {
  it('is not known from the function: it is assumed, and the sheet asks for a look', async () => {
    const scene = scenes.find(({ edition }) => edition === 'springs');
    if (scene === undefined) throw new Error('no scene with springs');
    const { stations: _, ...byFunction } = scene;
    await register(byFunction, 'K-shims');
    const { fit } = (await mustGoWell(shop('GET', pathOf(scene, 'K-shims')))).body.control;
    expect([fit['spring-well'].basis, fit['head'].basis]).toEqual(['assumed', 'seen']);
    const { steps } = await sheetOf({ ...scene, to: scene.from }, 'K-shims');
    const looks = steps.filter((step: { action: string }) => step.action === 'look');
    expect(looks.map((step: { station: string }) => step.station)).toEqual(['spring-well']);
  });
});

const holds = ['setting-outside', 'read-elsewhere', 'joint-not-closed', 'torque-outside', 'instrument-unknown'];
