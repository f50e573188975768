/**
 * Nothing that the service knows of stations, elements and functions comes from anywhere but the catalogue: it takes
 * one that it has never seen, and every conversion that this catalogue allows is planned, recorded and released. What
 * must change is computed here a second time, straight from the patterns.
 */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { testDatabase } from '../support/database.ts';
import type { Caller } from '../support/over-http.ts';
import { addOrganisations, type RunningService, startService } from '../support/running-service.ts';
import { mustGoWell, shopScopes } from '../support/scene.ts';
import { functions, oddEdition, type Pattern, stationsOn } from './odd-edition.ts';

type Held = { element: string; quantity: number };
type Fit = Record<string, Held[]>;
type Pair = { body: string; from: string; to: string; size: string; rotation: string };

const db = await testDatabase();
let service: RunningService;
let shop: Caller;

beforeAll(async () => {
  await addOrganisations(db, { quillmere: 'maker', fernhithe: 'distributor' });
  service = await startService(db);
  const maker = await service.caller({ maker: 'quillmere' }, ['catalogue:publish']);
  expect((await maker('PUT', '/v1/catalogue/quillmere/editions/first', oddEdition)).body.errors).toBe(undefined);
  shop = await service.caller({ distributor: 'fernhithe' }, shopScopes);
  await mustGoWell(shop('PUT', '/v1/shops/shed', { name: 'shed' }));
  await mustGoWell(shop('PUT', '/v1/technicians/ida', { name: 'I. Example' }));
  await mustGoWell(shop('PUT', '/v1/instruments/wrench', { kind: 'torque-wrench', how: 'indicated' }));
  await mustGoWell(shop('PUT', '/v1/instruments/gauge', { kind: 'gauge' }));
  await mustGoWell(shop('PUT', '/v1/lots/quillmere/77', { part: 'bought-loose' }));
  const intake = { reference: 'in-77', performedAt: '2026-01-05T08:00:00Z', shop: 'shed', quantity: 1000 };
  await mustGoWell(shop('POST', '/v1/lots/quillmere/77/intakes', intake));
});
afterAll(async () => {
  await service.stop();
});

/** Every ordered pair of functions of a body, on every size and rotation on which both can be had. */
const pairs: Pair[] = [
  { body: 'anvil', size: 's9', rotation: 'clockwise' },
  { body: 'anvil', size: 's7', rotation: 'counterclockwise' },
  { body: 'sluice', size: 's7', rotation: 'clockwise' },
  { body: 'sluice', size: 's7', rotation: 'counterclockwise' },
].flatMap((where) => {
  // The yoke that "yield" needs is on size s9 alone.
  const here = functions.filter(({ body, id }) => body === where.body && (id !== 'yield' || where.size === 's9'));
  return here.flatMap(({ id: from }) =>
    here.filter(({ id }) => id !== from).map(({ id: to }) => ({ ...where, from, to })),
  );
});

const patternOf = ({ body, rotation }: Pair, fun: string): Pattern['stations'] => {
  const all = functions.find((one) => one.body === body && one.id === fun)?.patterns ?? [];
  return (all.find(({ when }) => when === undefined || when.rotation === rotation) ?? { stations: {} }).stations;
};
const one = (element: string): Held[] => [{ element, quantity: 1 }];
const named = (demand: readonly (string | Held)[]) => demand.filter((each) => typeof each === 'string');
const key = (held: Held[]) =>
  held
    .map(({ element, quantity }) => `${quantity} ${element}`)
    .sort()
    .join();

/** What the function at the start has, of every choice the last; what it leaves open is stated. */
const startOf = (pair: Pair): Fit => {
  const pattern = patternOf(pair, pair.from);
  return Object.fromEntries(
    stationsOn(pair.body, pair.size).map((station) => {
      const demand = pattern[station];
      if (station === 'eye' || (station === 'ear' && demand === 'keep')) return [station, one('line-fit')];
      if (demand === undefined || demand === 'keep' || demand === 'none') return [station, []];
      const last = named(demand).at(-1);
      return [station, last === undefined ? (demand as Held[]) : one(last)];
    }),
  );
};
/** What each station must hold afterwards: what is right already stays, else the first that the function names. */
const endOf = (pair: Pair, start: Fit): Fit => {
  const pattern = patternOf(pair, pair.to);
  return Object.fromEntries(
    Object.entries(start).map(([station, held]) => {
      const demand = pattern[station];
      if (demand === undefined || demand === 'keep') return [station, held];
      if (demand === 'none') return [station, []];
      const choices = named(demand);
      if (choices.length === 0) return [station, demand as Held[]];
      return [station, choices.some((element) => key(one(element)) === key(held)) ? held : one(choices[0] ?? '')];
    }),
  );
};
const less = (a: Held[], b: Held[]) =>
  a.flatMap(({ element, quantity }) => {
    const rest = quantity - (b.find((each) => each.element === element)?.quantity ?? 0);
    return rest > 0 ? [{ element, quantity: rest }] : [];
  });
const changesBetween = (start: Fit, end: Fit) =>
  Object.entries(start).flatMap(([station, before]) => {
    const after = end[station] ?? [];
    return key(before) === key(after) ? [] : [{ station, out: less(before, after), in: less(after, before) }];
  });

const registration = (pair: Pair, start: Fit, serial: string) => {
  const side = (onPump: boolean) =>
    Object.fromEntries(
      Object.entries(start)
        .filter(([station]) => station.startsWith('pump/') === onPump && !/lid|gate|crown|heel/.test(station))
        .map(([station, content]) => [station, { content }]),
    );
  return {
    edition: 'first',
    performedAt: '2026-02-03T07:30:00+01:00',
    series: 'teasel',
    size: pair.size,
    rotation: pair.rotation,
    fluid: 'rapeseed',
    basis: 'seen',
    stations: side(true),
    control: { serial, body: pair.body, function: pair.from, basis: 'seen', stations: side(false) },
  };
};

// biome-ignore lint/suspicious/noExplicitAny: a job sheet as JSON
const recordOf = (sheet: any, serial: string, to: string) => {
  // biome-ignore lint/suspicious/noExplicitAny: a joint as JSON
  const reading = ({ torque, count }: any) => Array(count).fill(torque.target ?? torque.min);
  return {
    control: { maker: 'quillmere', serial },
    reference: `work on ${serial}`,
    edition: sheet.edition,
    sheet: sheet.sheet,
    performedAt: '2026-02-05T16:45:00+01:00',
    shop: 'shed',
    technician: 'ida',
    to: { function: to },
    // biome-ignore lint/suspicious/noExplicitAny: changes as JSON
    removed: sheet.changes.flatMap((each: any) => each.out.map((held: Held) => ({ station: each.station, ...held }))),
    // biome-ignore lint/suspicious/noExplicitAny: changes as JSON
    fitted: sheet.changes.flatMap((each: any) =>
      each.in.map((held: Held) => ({
        station: each.station,
        ...held,
        ...(!held.element.startsWith('disc') && { lot: '77' }),
      })),
    ),
    // biome-ignore lint/suspicious/noExplicitAny: joints as JSON
    seals: sheet.joints.flatMap((each: any) =>
      each.seals.map(({ seal, quantity }: { seal: string; quantity: number }) => ({
        joint: each.joint,
        seal: `${seal}-x`,
        quantity,
        lot: '77',
      })),
    ),
    torques: sheet.joints
      .filter(({ joint }: { joint: string }) => sheet.evidence.torques.includes(joint))
      // biome-ignore lint/suspicious/noExplicitAny: joints as JSON
      .map((each: any) => ({ joint: each.joint, how: 'indicated', reading: reading(each), instrument: 'wrench' })),
    settings: sheet.settings.map(
      ({ setting, max: { value, unit } }: { setting: string; max: Record<string, string> }) => ({
        setting,
        reading: { value, unit },
        instrument: 'gauge',
      }),
    ),
    checks: sheet.evidence.checks.map((check: string) => ({ check, result: 'passed' })),
  };
};

describe('a catalogue that was never seen', () => {
  it('has as many conversions as its functions make, on two bodies', () => {
    expect(pairs.filter(({ body }) => body === 'anvil')).toHaveLength(4 * 3 + 3 * 2);
    expect(pairs.filter(({ body }) => body === 'sluice')).toHaveLength(2 * (3 * 2));
  });

  it.each(pairs)('$body on $size, $rotation, from $from to $to', async (pair) => {
    const serial = Object.values(pair).join('-');
    const start = startOf(pair);
    const end = endOf(pair, start);
    const registered = await shop('PUT', `/v1/pumps/quillmere/P-${serial}`, registration(pair, start, serial));
    expect([registered.status, registered.body.findings]).toEqual([201, []]);

    const path = `/v1/controls/quillmere/${serial}`;
    const sheet = (await mustGoWell(shop('GET', `${path}/job-sheet?function=${pair.to}`))).body;
    expect(sheet.changes).toEqual(changesBetween(start, end));

    const recorded = await shop('POST', '/v1/conversions', recordOf(sheet, serial, pair.to));
    expect([recorded.status, recorded.body.status, recorded.body.findings]).toEqual([201, 'released', []]);

    const { control, pump } = (await mustGoWell(shop('GET', path))).body;
    expect([control.function, control.status, pump.status]).toEqual([pair.to, 'released', 'released']);
    const fit = { ...control.fit, ...pump.fit } as Record<string, { elements: Held[] }>;
    const held = Object.entries(fit).map(([station, { elements }]) => [station, key(elements)]);
    const expected = Object.entries(end).filter(
      ([station]) => fit[station] !== undefined || end[station]?.length !== 0,
    );
    expect(Object.fromEntries(held)).toEqual(
      Object.fromEntries(expected.map(([station, each]) => [station, key(each)])),
    );
    const again = (await mustGoWell(shop('GET', `${path}/job-sheet?function=${pair.to}`))).body;
    expect([again.changes, again.joints, again.evidence.torques]).toEqual([[], [], []]);
  });

  it('gives no function that the pump can not have, and says which it can', async () => {
    const { body: refused } = await shop(
      'GET',
      '/v1/controls/quillmere/anvil-s7-counterclockwise-hush-pulse/job-sheet?function=yield',
    );
    expect([refused.code, refused.offered]).toEqual(['no-plan', ['hush', 'pulse', 'drift']]);
    const { body: other } = await shop(
      'GET',
      '/v1/controls/quillmere/sluice-s7-clockwise-hush-tilt/job-sheet?function=drift',
    );
    expect([other.code, other.offered]).toEqual(['no-plan', ['hush', 'tilt', 'brake']]);
  });
});
