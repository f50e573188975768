/**
 * Small catalogues that nobody wrote: one body of up to eight stations (some on the pump), reached through each other
 * in up to three ways each and several levels deep, three functions and one to ten kits. Every one is a valid edition.
 */
import fc from 'fast-check';
import { type Demand, type Edition, editionSchema } from '../../../src/core/catalogue/edition.ts';

export const bodyId = 'block';
export const series = 'wren';
export const size = '40';
export const rotations = ['clockwise', 'counterclockwise'] as const;
export const functionIds = ['hold', 'sense', 'remote'] as const;
export const fluids = ['mineral', 'ester'] as const;
const elements = ['plug', 'orifice-a', 'orifice-b', 'spool-a', 'spool-b', 'insert'] as const;
const seals = [
  { id: 'ring-1-soft', fits: 'ring-1', fluids: ['mineral'] },
  { id: 'ring-1-hard', fits: 'ring-1' },
  { id: 'ring-2-soft', fits: 'ring-2', fluids: ['mineral', 'ester'] },
  { id: 'ring-3-hard', fits: 'ring-3', fluids: ['ester'] },
] as const;
const kinds = ['seat', 'bore', 'adjuster', 'closure', 'cavity', 'linkage'] as const;
const torque = { target: { value: '61', unit: 'N.m' }, tolerance: { value: '4', unit: 'N.m' } };

const joint = fc.record({
  holds: fc.integer({ min: 0, max: 3 }).map((die) => die === 0),
  locks: fc.integer({ min: 0, max: 2 }).map((die) => die === 0),
  count: fc.integer({ min: 1, max: 4 }),
  tool: fc.nat({ max: 2 }),
  seals: fc.uniqueArray(fc.record({ seal: fc.integer({ min: 1, max: 3 }), quantity: fc.integer({ min: 1, max: 2 }) }), {
    maxLength: 2,
    selector: (each) => each.seal,
  }),
});

const demand = fc.record({
  form: fc.integer({ min: 0, max: 4 }),
  picks: fc.array(fc.nat({ max: 5 }), { minLength: 3, maxLength: 3 }),
});

const slot = fc.record({
  kind: fc.constantFrom(...kinds),
  /** Each way names stations by how far back they stand: 0 is the one before. */
  ways: fc.array(fc.array(fc.constantFrom(0, 0, 0, 1, 1, 2, 3, 5), { minLength: 1, maxLength: 2 }), { maxLength: 3 }),
  accepts: fc.subarray([...elements], { minLength: 1 }),
  most: fc.integer({ min: 1, max: 3 }),
  joints: fc.array(joint, { maxLength: 2 }),
  /** One setting or two, and which functions list them. */
  sets: fc.option(
    fc.record({
      rank: fc.integer({ min: 1, max: 3 }),
      twice: fc.boolean(),
      listed: fc.array(fc.boolean(), { minLength: 3, maxLength: 3 }),
    }),
  ),
  onPump: fc.integer({ min: 0, max: 5 }).map((die) => die === 5),
  /** By function and rotation. */
  demands: fc.array(fc.array(demand, { minLength: 2, maxLength: 2 }), { minLength: 3, maxLength: 3 }),
});
type Slot = typeof slot extends fc.Arbitrary<infer Value> ? Value : never;

const kit = fc.record({
  part: fc.integer({ min: 1, max: 30 }),
  cost: fc.integer({ min: 0, max: 4 }),
  elsewhere: fc.integer({ min: 0, max: 7 }).map((die) => die === 7),
  contents: fc.uniqueArray(
    fc.record({ item: fc.nat({ max: elements.length + seals.length - 1 }), quantity: fc.integer({ min: 1, max: 3 }) }),
    {
      minLength: 1,
      maxLength: 4,
      selector: (each) => each.item,
    },
  ),
});

export const arbitraryEdition: fc.Arbitrary<Edition> = fc
  .record({
    slots: fc.array(slot, { minLength: 2, maxLength: 8 }),
    /** Sorting keys: stations aren't listed in the order in which they are reached. */
    order: fc.array(fc.nat({ max: 99 }), { minLength: 8, maxLength: 8 }),
    turns: fc.boolean(),
    openTogether: fc.integer({ min: 0, max: 3 }).map((die) => die === 3),
    kits: fc.uniqueArray(kit, { minLength: 1, maxLength: 10, selector: (each) => each.part }),
  })
  .map(({ slots, order, turns, openTogether, kits }) => {
    const placed = slots.map((each, index) => ({ ...each, index, key: order[index] ?? 0 }));
    const listed = placed.toSorted((one, other) => one.key - other.key);
    /** Among themselves the pump's stations may leave out `pump/`. */
    const nameFor = (onPump: boolean) => (index: number) =>
      placed[index]?.onPump ? `${onPump && index % 2 === 0 ? '' : 'pump/'}p${index}` : `s${index}`;
    const side = (onPump: boolean) => {
      const mine = listed.filter((each) => each.onPump === onPump);
      return {
        stations: mine.map((each) => stationOf(each, each.index, onPump, nameFor(onPump))),
        joints: mine.flatMap((each) => jointsOf(each, stationName(each.index, onPump))),
        settings: mine.flatMap((each) => settingsOf(each, stationName(each.index, onPump))),
      };
    };
    return editionSchema.parse({
      ...frame,
      series: [{ id: series, sizes: [{ ...sizeValues, bodies: [bodyId], ...side(true) }] }],
      bodies: [
        { ...otherBody, id: bodyId, rotationDependent: turns, openTogether, ...orAStation(side(false)) },
        otherBody,
      ],
      functions: [
        ...functionIds.map((id, nth) => functionOf(id, nth, listed, turns)),
        { id: 'rest', body: 'other', plate: 'REST', patterns: [{ stations: { lid: 'none' } }] },
      ],
      kits: kits.map(kitOf),
    });
  });

const sizeValues = {
  id: size,
  displacement: { value: '40', unit: 'cm3' },
  ratedPressure: { value: '210', unit: 'bar' },
  highestSetting: { value: '210', unit: 'bar' },
  peakPressure: { value: '250', unit: 'bar' },
  maxSpeed: { value: '2600', unit: 'r/min' },
};
const otherBody = { id: 'other', rotationDependent: false, stations: [{ id: 'lid', kind: 'closure' }] };
const frame = {
  maker: 'ardenholm',
  edition: 'made-up',
  effectiveFrom: '2026-01-01',
  elements: [...elements.map((id) => ({ id, kind: 'part' })), ...seals.map((each) => ({ ...each, kind: 'seal' }))],
  checks: [
    {
      id: 'pressure-free',
      role: 'safety',
      requiredBy: ['conversion'],
      where: 'anywhere',
      text: 'No pressure is left.',
    },
    { id: 'tight', role: 'leak', requiredBy: ['conversion', 'mounting'], where: 'mounted', text: 'Nothing leaks.' },
  ],
};

function stationName(index: number, onPump: boolean): string {
  return onPump ? `p${index}` : `s${index}`;
}

/** A body has a station even when all that were made up sit on the pump. */
function orAStation<Side extends { stations: unknown[] }>(side: Side) {
  return side.stations.length > 0 ? side : { ...side, stations: [{ id: 'blank', kind: 'cavity' }] };
}

/** A body's station may be reached through the pump, but never only so: the control could not be converted off it. */
function stationOf(each: Slot, index: number, onPump: boolean, nameAt: (index: number) => string) {
  const every = each.ways
    .map((way) => [
      ...new Set(
        way
          .map((back) => index - 1 - back)
          .filter((at) => at >= 0)
          .map(nameAt),
      ),
    ])
    .filter((way, nth, all) => way.length > 0 && all.findIndex((other) => `${other}` === `${way}`) === nth);
  const isWhole = onPump || every.some((way) => way.every((name) => name.startsWith('s')));
  const ways = isWhole ? every : [];
  const station = { id: stationName(index, onPump), kind: each.kind, accepts: each.accepts, most: each.most };
  return ways.length > 0 ? { ...station, access: ways } : station;
}

function jointsOf(each: Slot, station: string) {
  return each.joints.map(({ holds, locks, count, tool, seals: rings }, nth) => ({
    id: `${station}-j${nth}`,
    station,
    count,
    torque,
    tool: { drive: 'hex', size: `${19 + tool} mm` },
    seals: rings.map((ring) => ({ seal: `ring-${ring.seal}`, quantity: ring.quantity })),
    ...(locks && each.sets !== null ? { closed: 'after-setting' } : { opens: !holds }),
  }));
}

function settingsOf(each: Slot, station: string) {
  if (each.sets === null) return [];
  const { rank, twice } = each.sets;
  const main = { id: `${station}-set`, station, quantity: 'pressure', rank };
  return twice ? [{ ...main, id: `${station}-trim`, rank: 4 - rank }, main] : [main];
}

function functionOf(id: string, nth: number, listed: (Slot & { index: number })[], turns: boolean) {
  const stations = (turn: number) =>
    Object.fromEntries([
      ...(listed.every((each) => each.onPump) ? [['blank', 'none']] : []),
      ...listed.map((each) => {
        const asked = each.demands[nth]?.[turn];
        const name = each.onPump ? `pump/p${each.index}` : `s${each.index}`;
        return [name, asked === undefined ? 'keep' : demandOf(asked.form, asked.picks, each)];
      }),
    ]);
  return {
    id,
    body: bodyId,
    plate: id.toUpperCase(),
    patterns: turns
      ? rotations.map((rotation, turn) => ({ when: { rotation }, stations: stations(turn) }))
      : [{ stations: stations(0) }],
    settings: listed
      .filter((each) => each.sets?.listed[nth])
      .flatMap((each) => settingsOf(each, each.onPump ? `pump/p${each.index}` : `s${each.index}`))
      .map(({ id: setting }) => ({
        setting,
        min: { value: `${20 + 30 * nth}`, unit: 'bar' },
        max: { value: `${120 + 90 * nth}`, unit: 'bar' },
      })),
  };
}

function demandOf(form: number, picks: readonly number[], { accepts, most }: Slot): Demand {
  const chosen = picks.map((pick) => accepts[pick % accepts.length] ?? 'plug');
  const [first = 'plug', second = first, third = first] = chosen;
  if (form === 0) return 'none';
  if (form === 1) return 'keep';
  if (form === 2) return [first];
  if (form === 3) return [...new Set([first, second, third])];
  return [...new Set(chosen.slice(0, most))].map((element, nth, all) => ({
    element,
    quantity: nth === 0 ? most - all.length + 1 : 1,
  }));
}

function kitOf({
  part,
  cost,
  elsewhere,
  contents,
}: {
  part: number;
  cost: number;
  elsewhere: boolean;
  contents: { item: number; quantity: number }[];
}) {
  const items = [...elements, ...seals.map((each) => each.id)];
  return {
    part: `kit-${part}`,
    cost,
    bodies: [elsewhere ? 'other' : bodyId],
    contents: contents.map(({ item, quantity }) => ({ element: items[item] ?? 'plug', quantity })),
  };
}
