/**
 * Look-ups in a checked edition. Maps are built once per edition object and live as long as it does; what isn't
 * there is `null`, never an exception.
 */

import { onceFor } from '../once-for.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Body, Edition, Element, Fun, Joint, Kit, Pattern, Setting, Size, Station } from './edition.ts';

/** What a control is built for, or what it sits on, as far as it is known. Sizes and voltages by their catalogue name. */
export type Circumstances = {
  readonly rotation?: string | null | undefined;
  /** Two series may have sizes of one name. */
  readonly series?: string | null | undefined;
  readonly size?: string | null | undefined;
  readonly voltage?: string | null | undefined;
};

export const onPump = 'pump/';

type PumpValue = 'displacement' | 'ratedPressure' | 'highestSetting' | 'peakPressure' | 'maxSpeed' | 'shaftTorqueLimit';
const pumpValues: ReadonlyMap<string, PumpValue> = new Map([
  ['displacement', 'displacement'],
  ['rated-pressure', 'ratedPressure'],
  ['highest-setting', 'highestSetting'],
  ['peak-pressure', 'peakPressure'],
  ['max-speed', 'maxSpeed'],
  ['shaft-torque-limit', 'shaftTorqueLimit'],
]);

/** The names under which a relation's `pump` term may ask for a value of the pump's size. */
export const pumpValueNames: readonly string[] = [...pumpValues.keys()];

/** A value of a pump's size by its name in relations; null for one that the size doesn't state or that there isn't. */
export function pumpValueOf(size: Size, name: string): Quantity | null {
  const field = pumpValues.get(name);
  return field === undefined ? null : (size[field] ?? null);
}

export function bodyOf(edition: Edition, bodyId: string): Body | null {
  return indexOf(edition).bodies.get(bodyId) ?? null;
}

/** A function is known by body and id: two bodies may have a function of the same name. Retired ones are found too. */
export function functionOf(edition: Edition, bodyId: string, functionId: string): Fun | null {
  return indexOf(edition).functions.get(bodyId)?.get(functionId) ?? null;
}

/** All functions of a body in the edition's order, retired ones too: a control may still have one. */
export function functionsOf(edition: Edition, bodyId: string): readonly Fun[] {
  return [...(indexOf(edition).functions.get(bodyId)?.values() ?? [])];
}

export function elementOf(edition: Edition, elementId: string): Element | null {
  return indexOf(edition).elements.get(elementId) ?? null;
}

/** The seals, in the edition's order, that fit a seal size. */
export function sealsFitting(edition: Edition, sealSize: string): readonly Element[] {
  return indexOf(edition).seals.get(sealSize) ?? [];
}

/** The kits for a body in the order of their part numbers, without those that are retired. */
export function kitsFor(edition: Edition, bodyId: string): readonly Kit[] {
  return indexOf(edition).kits.get(bodyId) ?? [];
}

export function sizeOf(edition: Edition, seriesId: string, sizeId: string): Size | null {
  return indexOf(edition).sizes.get(seriesId)?.get(sizeId) ?? null;
}

/** The sizes, of whatever series, on which a body can sit. */
export function sizesWith(edition: Edition, bodyId: string): readonly Size[] {
  return indexOf(edition).sizesByBody.get(bodyId) ?? [];
}

/** The series that have a size on which a body can sit, or that size of this name. */
export function seriesWith(edition: Edition, bodyId: string, sizeId: string | undefined): readonly string[] {
  const fits = ({ id, bodies }: Size) => bodies.includes(bodyId) && (sizeId === undefined || id === sizeId);
  return edition.series.filter(({ sizes }) => sizes.some(fits)).map(({ id }) => id);
}

/** The stations of a control, and of the pump under it when its size is known (`pump/…`). */
export function stationsOf(body: Body, size: Size | null): readonly Station[] {
  return size === null ? body.stations : [...body.stations, ...pumpSide(size).stations];
}

/** The joints of a control, and of the pump under it when its size is known (`pump/…`); mounting joints too. */
export function jointsOf(body: Body, size: Size | null): readonly Joint[] {
  return size === null ? body.joints : [...body.joints, ...pumpSide(size).joints];
}

/** The settings of a control, and of the pump under it when its size is known (`pump/…`). */
export function settingsOf(body: Body, size: Size | null): readonly Setting[] {
  return size === null ? body.settings : [...body.settings, ...pumpSide(size).settings];
}

/**
 * The first pattern whose `when` is satisfied. What isn't known satisfies only a pattern that doesn't ask for it.
 * Whether the pump has the stations that the pattern decides is `functionsOfferedTo`'s to say.
 */
export function patternFor(fun: Fun, circumstances: Circumstances): Pattern | null {
  return fun.patterns.find((pattern) => satisfies(circumstances, pattern)) ?? null;
}

/**
 * The functions that a body can be given under these circumstances, in the edition's order. Retired ones are not
 * offered, nor those that demand something of a station that no pump of the known size has.
 */
export function functionsOfferedTo(edition: Edition, body: Body, circumstances: Circumstances): readonly Fun[] {
  const { series, size: sizeId } = circumstances;
  const sizes = sizesWith(edition, body.id).filter(
    (size) => size.id === sizeId && (series == null || sizeOf(edition, series, sizeId) === size),
  );
  return functionsOf(edition, body.id).filter((fun) => {
    if (fun.retired === true) return false;
    const pattern = patternFor(fun, circumstances);
    if (pattern === null) return false;
    return circumstances.size == null || sizes.some((size) => hasStationsFor(pattern, size));
  });
}

function satisfies(circumstances: Circumstances, { when }: Pattern): boolean {
  return (
    (when.rotation === undefined || when.rotation === circumstances.rotation) &&
    (when.size === undefined || when.size === circumstances.size) &&
    (when.voltage === undefined || when.voltage === circumstances.voltage)
  );
}

/** A pump without the station leaves it empty: only a demand for elements can fail there. */
function hasStationsFor(pattern: Pattern, size: Size): boolean {
  const has = new Set(pumpSide(size).stations.map((station) => station.id));
  return Object.entries(pattern.stations).every(
    ([place, demand]) => !place.startsWith(onPump) || has.has(place) || demand === 'none' || demand === 'keep',
  );
}

type PumpSide = Pick<Size, 'stations' | 'joints' | 'settings'>;

/** A size's own stations, joints and settings under the names that they have beside those of a body. */
const pumpSide = onceFor((size: Size): PumpSide => {
  const own = new Set(size.stations.map((station) => station.id));
  const named = (place: string) => (own.has(place) ? onPump + place : place);
  return {
    stations: size.stations.map((station) => ({
      ...station,
      id: named(station.id),
      ...(station.access && { access: station.access.map((way) => way.map(named)) }),
    })),
    joints: size.joints.map((joint) => ({
      ...joint,
      id: onPump + joint.id,
      ...(joint.station && { station: onPump + joint.station }),
    })),
    settings: size.settings.map((setting) => ({
      ...setting,
      id: onPump + setting.id,
      station: onPump + setting.station,
    })),
  };
});

type Index = {
  readonly bodies: ReadonlyMap<string, Body>;
  readonly functions: ReadonlyMap<string, ReadonlyMap<string, Fun>>;
  readonly elements: ReadonlyMap<string, Element>;
  readonly seals: ReadonlyMap<string, readonly Element[]>;
  readonly kits: ReadonlyMap<string, readonly Kit[]>;
  readonly sizes: ReadonlyMap<string, ReadonlyMap<string, Size>>;
  readonly sizesByBody: ReadonlyMap<string, readonly Size[]>;
};

const indexOf = onceFor(
  (edition: Edition): Index => ({
    bodies: byId(edition.bodies),
    functions: new Map(
      [...Map.groupBy(edition.functions, (fun) => fun.body)].map(([body, funs]) => [body, byId(funs)]),
    ),
    elements: byId(edition.elements),
    seals: Map.groupBy(edition.elements.filter(isSeal), (seal) => seal.fits),
    kits: byBody(
      edition.kits.filter(({ retired }) => retired !== true).sort((one, other) => (one.part < other.part ? -1 : 1)),
    ),
    sizes: new Map(edition.series.map((series) => [series.id, byId(series.sizes)])),
    sizesByBody: byBody(edition.series.flatMap(({ sizes }) => sizes)),
  }),
);

function isSeal(element: Element): element is Element & { fits: string } {
  return element.fits !== undefined;
}

function byId<T extends { readonly id: string }>(items: readonly T[]): ReadonlyMap<string, T> {
  return new Map(items.map((item) => [item.id, item]));
}

function byBody<T extends { readonly bodies: readonly string[] }>(
  items: readonly T[],
): ReadonlyMap<string, readonly T[]> {
  const found = new Map<string, T[]>();
  for (const item of items) {
    for (const body of item.bodies) found.set(body, [...(found.get(body) ?? []), item]);
  }
  return found;
}
