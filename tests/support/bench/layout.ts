/**
 * What a workshop has on its bench, read from an edition alone: the stations, joints and settings of a control and,
 * where it sits on one, of its pump, the pump's under `pump/…`. Shares no code with the service.
 */
import type {
  Body,
  Demand,
  Edition,
  Element,
  Fun,
  Joint,
  Setting,
  Station,
} from '../../../src/core/catalogue/edition.ts';

export type OnPump = { series: string; size: string } | null;

export type Layout = {
  body: Body;
  stations: Map<string, Station>;
  /** Joints that belong to a station. */
  joints: Map<string, StationJoint>;
  settings: Map<string, Setting>;
  /** Joints that hold the control on its pump. */
  mounting: Map<string, Joint>;
  /** By setting the elements that have a range for it. */
  springs: Map<string, string[]>;
};

export function layoutOf(edition: Edition, bodyId: string, pump: OnPump): Layout {
  const body = edition.bodies.find((candidate) => candidate.id === bodyId);
  if (body === undefined) throw new Error(`the edition has no body ${bodyId}`);
  const layout: Layout = {
    body,
    stations: new Map(),
    joints: new Map(),
    settings: new Map(),
    mounting: new Map(),
    springs: new Map(),
  };
  add(layout, body, '', new Set());
  if (pump !== null) {
    const size = edition.series
      .find((series) => series.id === pump.series)
      ?.sizes.find((each) => each.id === pump.size);
    if (size === undefined) throw new Error(`the edition has no size ${pump.size} of ${pump.series}`);
    add(layout, size, 'pump/', new Set(size.stations.map((station) => station.id)));
  }
  for (const { id, ranges } of edition.elements) {
    for (const setting of Object.keys(ranges ?? {})) {
      layout.springs.set(setting, [...(layout.springs.get(setting) ?? []), id]);
    }
  }
  return layout;
}

export function isOnPump(place: string): boolean {
  return place.startsWith('pump/');
}

/** The pump without the control that is to be put on it. */
export function pumpAlone(layout: Layout): Layout {
  const mine = <Thing>(things: Map<string, Thing>) => new Map([...things].filter(([id]) => isOnPump(id)));
  return { ...layout, stations: mine(layout.stations), joints: mine(layout.joints) };
}

/** What is set at a station, or has its spring there. */
export function disturbedAt(layout: Layout, station: string): string[] {
  const accepts = layout.stations.get(station)?.accepts ?? [];
  return [...layout.settings.values()]
    .filter((each) => each.station === station || layout.springs.get(each.id)?.some((one) => accepts.includes(one)))
    .map((each) => each.id);
}

type Side = { stations: Station[]; joints: Joint[]; settings: Setting[] };

function add(layout: Layout, side: Side, prefix: string, own: Set<string>): void {
  const named = (place: string) => (own.has(place) ? prefix + place : place);
  for (const station of side.stations) {
    const access = (station.access ?? []).map((way) => way.map(named));
    layout.stations.set(prefix + station.id, { ...station, id: prefix + station.id, access });
  }
  for (const joint of side.joints) {
    if (joint.station === undefined) layout.mounting.set(prefix + joint.id, { ...joint, id: prefix + joint.id });
    else layout.joints.set(prefix + joint.id, { ...joint, id: prefix + joint.id, station: prefix + joint.station });
  }
  for (const setting of side.settings) {
    layout.settings.set(prefix + setting.id, {
      ...setting,
      id: prefix + setting.id,
      station: prefix + setting.station,
    });
  }
}

type StationJoint = Joint & { station: string };

export function jointsAt(layout: Layout, station: string): StationJoint[] {
  return [...layout.joints.values()].filter((joint) => joint.station === station);
}

/** Whether a joint comes and goes with what sits at its station. */
export function comesWithPart(layout: Layout, joint: StationJoint): boolean {
  return joint.with !== undefined || isThread(layout, joint);
}

/**
 * Whether a joint isn't there while its station holds these pieces. Where nothing sits in a seat or a port, nothing is
 * screwed in: its joints, but for locknuts, are that part's thread.
 */
export function isAbsent(layout: Layout, joint: StationJoint, held: Iterable<string>): boolean {
  const there = [...held];
  const brought = joint.with?.filter((element) => there.includes(element));
  return brought?.length === 0 || (isThread(layout, joint) && there.length === 0);
}

function isThread(layout: Layout, joint: StationJoint): boolean {
  const kind = layout.stations.get(joint.station)?.kind ?? '';
  return ['seat', 'port'].includes(kind) && joint.closed === undefined;
}

export function waysTo(layout: Layout, station: string): string[][] {
  return layout.stations.get(station)?.access ?? [];
}

export function elementById(edition: Edition, id: string): Element | undefined {
  return edition.elements.find((element) => element.id === id);
}

export type Situation = { rotation?: string | undefined; size?: string | undefined; voltage?: string | undefined };

/** What a function demands of each station, or null where no pattern is for this situation. The first that fits counts. */
export function demandsOf(fun: Fun, situation: Situation): Record<string, Demand> | null {
  const fits = ({ when }: Fun['patterns'][number]) =>
    [
      [when.rotation, situation.rotation],
      [when.size, situation.size],
      [when.voltage, situation.voltage],
    ].every(([asked, given]) => asked === undefined || asked === given);
  return fun.patterns.find(fits)?.stations ?? null;
}
