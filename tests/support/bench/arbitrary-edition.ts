/**
 * Small catalogues that nobody wrote: one body of up to eight stations (some on the pump), reached through each other
 * in up to three ways each and several levels deep, three functions and one to ten kits. What is set there is set from
 * outside, its spring anywhere. Every one is a valid edition.
 */
import fc from 'fast-check';
import { type Demand, type Edition, editionSchema } from '../../../src/core/catalogue/edition.ts';
import { arbitraryKit, elements, kitOf, seals } from './arbitrary-kit.ts';

export const bodyId = 'block';
export const series = 'wren';
export const size = '40';
export const rotations = ['clockwise', 'counterclockwise'] as const;
export const functionIds = ['hold', 'sense', 'remote'] as const;
export const fluids = ['mineral', 'ester'] as const;
/** A size whose pumps don't take the body. */
export const otherSize = '60';
const kinds = ['seat', 'bore', 'adjuster', 'closure', 'cavity', 'linkage'] as const;
const torque = { target: { value: '61', unit: 'N.m' }, tolerance: { value: '4', unit: 'N.m' } };

const joint = fc.record({
  holds: fc.integer({ min: 0, max: 3 }).map((die) => die === 0),
  locks: fc.integer({ min: 0, max: 2 }).map((die) => die === 0),
  /** Of what the station accepts, that which brings the joint; mostly it is always there. */
  brings: fc.constantFrom(null, null, 0, 1, 2),
  count: fc.integer({ min: 1, max: 4 }),
  tool: fc.nat({ max: 2 }),
  seals: fc.uniqueArray(fc.record({ seal: fc.integer({ min: 1, max: 3 }), quantity: fc.integer({ min: 1, max: 2 }) }), {
    maxLength: 2,
    selector: (each) => each.seal,
  }),
});

const demand = fc.record({
  form: fc.integer({ min: 0, max: 6 }),
  picks: fc.array(fc.nat({ max: 5 }), { minLength: 3, maxLength: 3 }),
});

const slot = fc.record({
  kind: fc.constantFrom(...kinds),
  /** Each way names stations by how far back they stand: 0 is the one before. */
  ways: fc.array(fc.array(fc.constantFrom(0, 0, 0, 1, 1, 2, 3, 5), { minLength: 1, maxLength: 2 }), { maxLength: 3 }),
  accepts: fc.subarray([...elements], { minLength: 1 }),
  most: fc.integer({ min: 1, max: 3 }),
  joints: fc.array(joint, { maxLength: 2 }),
  /** One setting or two, which functions list them, and what springs they have. */
  sets: fc.option(
    fc.record({
      rank: fc.integer({ min: 1, max: 3 }),
      twice: fc.boolean(),
      /** One of two is only read, or the one where no locknut is. */
      isRead: fc.boolean(),
      isPressure: fc.integer({ min: 0, max: 3 }).map((die) => die > 0),
      listed: fc.array(fc.boolean(), { minLength: 3, maxLength: 3 }),
      /** What all springs can reach together is never less than 100 to 110. */
      springs: fc.array(
        fc.record({
          element: fc.nat({ max: elements.length - 1 }),
          min: fc.integer({ min: 0, max: 100 }),
          max: fc.integer({ min: 110, max: 250 }),
        }),
        { maxLength: 2 },
      ),
    }),
  ),
  onPump: fc.integer({ min: 0, max: 3 }).map((die) => die === 3),
  /** By function and rotation. */
  demands: fc.array(fc.array(demand, { minLength: 2, maxLength: 2 }), { minLength: 3, maxLength: 3 }),
});
type Slot = typeof slot extends fc.Arbitrary<infer Value> ? Value : never;

const mountingJoint = fc.record({
  onPump: fc.boolean(),
  count: fc.integer({ min: 1, max: 4 }),
  seals: fc.integer({ min: 0, max: 2 }),
});

export const arbitraryEdition: fc.Arbitrary<Edition> = fc
  .record({
    slots: fc.array(slot, { minLength: 2, maxLength: 8 }),
    /** Sorting keys: stations aren't listed in the order in which they are reached. */
    order: fc.array(fc.nat({ max: 99 }), { minLength: 8, maxLength: 8 }),
    turns: fc.boolean(),
    openTogether: fc.integer({ min: 0, max: 3 }).map((die) => die === 3),
    mountings: fc.array(mountingJoint, { minLength: 1, maxLength: 2 }),
    highest: fc.integer({ min: 110, max: 250 }),
    kits: fc.uniqueArray(arbitraryKit, { minLength: 1, maxLength: 10, selector: (each) => each.part }),
  })
  .map(({ slots, order, turns, openTogether, mountings, highest, kits }) => {
    const placed = slots.map((each, index) => {
      const isBehind = waysOf(each, index, (at) => `${at}`).length > 0;
      return { ...each, index, key: order[index] ?? 0, sets: isBehind ? null : each.sets };
    });
    const listed = placed.toSorted((one, other) => one.key - other.key);
    /** Among themselves the pump's stations may leave out `pump/`. */
    const nameFor = (onPump: boolean) => (index: number) =>
      placed[index]?.onPump ? `${onPump && index % 2 === 0 ? '' : 'pump/'}p${index}` : `s${index}`;
    const side = (onPump: boolean) => {
      const mine = listed.filter((each) => each.onPump === onPump);
      return {
        stations: mine.map((each) => stationOf(each, each.index, onPump, nameFor(onPump))),
        joints: [
          ...mine.flatMap((each) => jointsOf(each, stationName(each.index, onPump))),
          ...mountings.filter((each) => each.onPump === onPump).map(mountingJointOf),
        ],
        settings: mine.flatMap((each) => settingsOf(each, stationName(each.index, onPump))),
      };
    };
    return editionSchema.parse({
      ...frame,
      elements: [
        ...elements.map((id, nth) => springOf(id, nth, placed)),
        ...seals.map((each) => ({ ...each, kind: 'seal' })),
      ],
      series: [
        {
          id: series,
          sizes: [
            { ...sizeValues, highestSetting: { value: `${highest}`, unit: 'bar' }, bodies: [bodyId], ...side(true) },
            { ...sizeValues, id: otherSize, bodies: ['other'] },
          ],
        },
      ],
      bodies: [
        { ...otherBody, id: bodyId, rotationDependent: turns, openTogether, ...orAStation(side(false)) },
        otherBody,
      ],
      functions: [
        ...functionIds.map((id, nth) => functionOf(id, nth, listed, turns)),
        { id: 'rest', body: 'other', plate: 'REST', patterns: [{ stations: { lid: 'none' } }] },
      ],
      kits: kits.map((each) => kitOf(each, bodyId)),
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
  checks: [
    ['pressure-free', 'safety', ['conversion', 'mounting'], 'anywhere'],
    ['tight', 'leak', ['conversion', 'mounting'], 'mounted'],
    ['clean', 'other', ['conversion'], 'anywhere'],
    ['strokes', 'function', ['mounting'], 'stand'],
    ['marked', 'plate', ['conversion', 'mounting'], 'mounted'],
    ['turned-by-hand', 'other', ['mounting'], 'anywhere'],
    ['seen', 'other', ['inspection'], 'anywhere'],
  ].map(([id, role, requiredBy, where]) => ({ id, role, requiredBy, where, text: `it is ${id}` })),
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
  const every = waysOf(each, index, nameAt);
  const isWhole = onPump || every.some((way) => way.every((name) => name.startsWith('s')));
  const ways = isWhole ? every : [];
  const station = { id: stationName(index, onPump), kind: each.kind, accepts: each.accepts, most: each.most };
  return ways.length > 0 ? { ...station, access: ways } : station;
}

function waysOf(each: Slot, index: number, nameAt: (index: number) => string): string[][] {
  return each.ways
    .map((way) => [
      ...new Set(
        way
          .map((back) => index - 1 - back)
          .filter((at) => at >= 0)
          .map(nameAt),
      ),
    ])
    .filter((way, nth, all) => way.length > 0 && all.findIndex((other) => `${other}` === `${way}`) === nth);
}

function jointsOf(each: Slot, station: string) {
  return each.joints.map(({ holds, locks, brings, count, tool, seals: rings }, nth) => ({
    id: `${station}-j${nth}`,
    station,
    count,
    torque,
    tool: { drive: 'hex', size: `${19 + tool} mm` },
    seals: rings.map((ring) => ({ seal: `ring-${ring.seal}`, quantity: ring.quantity })),
    ...(brings !== null && { with: each.accepts.slice(brings % each.accepts.length) }),
    ...(locks && each.sets !== null ? { closed: 'after-setting' } : { opens: !holds }),
  }));
}

function mountingJointOf({ count, seals: quantity }: { count: number; seals: number }, nth: number) {
  const rings = quantity > 0 ? [{ seal: 'ring-1', quantity }] : [];
  return {
    id: `flange-${nth}`,
    mounting: true,
    count,
    torque,
    tool: { drive: 'hex socket', size: '6 mm' },
    seals: rings,
  };
}

/** An element with what it does for settings, wherever it sits. */
function springOf(id: string, nth: number, placed: (Slot & { index: number })[]) {
  const ranges = placed.flatMap((each) => {
    const station = each.onPump ? `pump/p${each.index}` : `s${each.index}`;
    const unit = unitOf(each);
    return settingsOf(each, station).flatMap(({ id: setting }) =>
      (each.sets?.springs ?? [])
        .filter(({ element }) => element === nth)
        .map(({ min, max }) => [setting, { min: { value: `${min}`, unit }, max: { value: `${max}`, unit } }] as const),
    );
  });
  return { id, kind: 'part', ...(ranges.length > 0 && { ranges: Object.fromEntries(ranges) }) };
}

function rpm(value: string) {
  return { value, unit: 'r/min' };
}

function unitOf({ sets }: Slot): string {
  return sets?.isPressure === false ? 'mA' : 'bar';
}

function settingsOf(each: Slot, station: string) {
  if (each.sets === null) return [];
  const { rank, twice, isPressure, isRead } = each.sets;
  const main = { id: `${station}-set`, station, quantity: isPressure ? 'pressure' : 'current', rank };
  const read = { adjusted: false, at: { speed: { min: rpm('1450'), max: rpm('1550') } } };
  if (!twice) return [{ ...main, ...(isRead && each.joints.every(({ locks }) => !locks) && read) }];
  return [{ ...main, id: `${station}-trim`, rank: 4 - rank, ...(isRead && read) }, main];
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
      .flatMap((each) =>
        settingsOf(each, each.onPump ? `pump/p${each.index}` : `s${each.index}`).map(({ id: setting }) => ({
          setting,
          ...boundsOf(nth, unitOf(each)),
        })),
      ),
  };
}

function boundsOf(nth: number, unit: string) {
  if (nth === 2) return { target: { value: '105', unit }, tolerance: { value: '25', unit } };
  const min = { value: `${20 + 30 * nth}`, unit };
  return nth === 1 ? { min } : { min, max: { value: '120', unit } };
}

function demandOf(form: number, picks: readonly number[], { accepts, most }: Slot): Demand {
  const chosen = picks.map((pick) => accepts[pick % accepts.length] ?? 'plug');
  const [first = 'plug', second = first, third = first] = chosen;
  if (form === 0) return 'none';
  if (form === 1) return 'keep';
  if (form === 2) return [first];
  if (form === 3) return [...new Set([first, second, third])];
  const some = [...new Set(chosen.slice(0, most))];
  if (form === 4)
    return some.map((element, nth, { length }) => ({ element, quantity: nth === 0 ? most - length + 1 : 1 }));
  // One of the first, or none of what must be there; of the rest as many as find room.
  const [fixed, limited] = form === 5 ? [some.slice(0, 1), [...new Set(chosen)].slice(1)] : [[], some];
  return [
    ...limited.slice(0, most > fixed.length ? undefined : 0).map((element) => ({ element, upTo: most - fixed.length })),
    ...fixed.map((element) => ({ element, quantity: 1 })),
  ];
}
