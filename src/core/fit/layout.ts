/** A control's body, and the pump under it where that is at hand, as one set of places. */
import type { Body, Joint, Setting, Size, Station } from '../catalogue/edition.ts';
import { jointsOf, onPump, settingsOf, stationsOf } from '../catalogue/lookup.ts';
import { onceFor } from '../once-for.ts';
import { type Content, type Fit, type Held, notKnown } from './fit.ts';

export type Layout = {
  readonly body: Body;
  readonly size: Size | null;
  /** In the catalogue's order. */
  readonly stations: readonly Station[];
  readonly station: ReadonlyMap<string, Station>;
  readonly joints: readonly StationJoint[];
  readonly jointsAt: ReadonlyMap<string, readonly StationJoint[]>;
  readonly mountingJoints: readonly Joint[];
  /** By id, mounting joints too. */
  readonly joint: ReadonlyMap<string, Joint>;
  readonly settings: readonly Setting[];
  /** Control and pump are both there, but not together yet: no way leads from one into the other. */
  readonly apart: boolean;
  /** By station, in the catalogue's order, the listed ways in that can be used on what is at hand; an empty one is from outside. */
  readonly ways: ReadonlyMap<string, readonly (readonly string[])[]>;
};

/** A joint of a station; the others hold control and pump together. */
export type StationJoint = Joint & { readonly station: string };

/** What a station holds. A closure that accepts nothing is known to be empty: it only gives access. */
export function contentAt(layout: Layout, fit: Fit, station: string): Content {
  if (layout.station.get(station)?.accepts.length === 0) return { elements: [], basis: 'built' };
  return fit[station] ?? notKnown;
}

/** What every station holds, as far as it is known. */
export function contentsOf(layout: Layout, fit: Fit): ReadonlyMap<string, readonly Held[] | null> {
  return new Map(layout.stations.map(({ id }) => [id, contentAt(layout, fit, id).elements]));
}

/** In place of a body where a pump stands without a control. */
export const bare: Body = { id: '', rotationDependent: false, stations: [], joints: [], settings: [] };

export function layoutOf(body: Body, size: Size | null, apart = false): Layout {
  const { beside, together } = layoutsWith(body)(size ?? shelf);
  return apart ? beside : together;
}

/** In place of the size of a pump where there is none. */
const shelf = { size: null };

/** One for a body and a size of one edition: whoever asks for the same gets the same. */
const layoutsWith = onceFor((body: Body) =>
  onceFor((on: Size | typeof shelf) => {
    const size = 'id' in on ? on : null;
    return { together: makeLayout(body, size, false), beside: makeLayout(body, size, true) };
  }),
);

function makeLayout(body: Body, size: Size | null, apart: boolean): Layout {
  const stations = stationsOf(body, size);
  const joints = jointsOf(body, size);
  const station = new Map(stations.map((one) => [one.id, one]));
  const ofStations = joints.filter(isOfStation);
  return {
    body,
    size,
    stations,
    station,
    joints: ofStations,
    jointsAt: Map.groupBy(ofStations, (joint) => joint.station),
    mountingJoints: joints.filter((joint) => !isOfStation(joint)),
    joint: new Map(joints.map((joint) => [joint.id, joint])),
    settings: settingsOf(body, size),
    apart,
    ways: new Map(
      stations.map(({ id, access = [] }) => {
        const isAtHand = (through: string) => station.has(through) && (!apart || isOnPump(through) === isOnPump(id));
        return [id, access.length === 0 ? [[]] : access.filter((way) => way.every(isAtHand))];
      }),
    ),
  };
}

export function jointsAt(layout: Layout, station: string): readonly StationJoint[] {
  return layout.jointsAt.get(station) ?? [];
}

/**
 * The joints broken when a station that holds this is opened (or closed when one that then holds it is closed; null:
 * nobody knows what it holds), and those worked besides when its content is changed: a joint with `opens: false` holds
 * an element that stays where it is while others are reached through the station.
 */
export function jointsAround(
  layout: Layout,
  station: string,
  changed: boolean,
  held: readonly Held[] | null,
): readonly StationJoint[] {
  return jointsAt(layout, station).filter((joint) => (joint.opens || changed) && isJointThere(layout, joint, held));
}

/** Whether a joint is there while its station holds this. Null: nobody knows, so it may be. */
export function isJointThere(layout: Layout, joint: StationJoint, held: readonly Held[] | null): boolean {
  if (held === null) return true;
  if (joint.with !== undefined && !held.some(({ element }) => joint.with?.includes(element))) return false;
  return held.length > 0 || !isThread(layout, joint);
}

/** Whether a joint is the thread of what sits at its station: without that there is no joint. */
function isThread(layout: Layout, joint: StationJoint): boolean {
  const kind = layout.station.get(joint.station)?.kind;
  return (kind === 'seat' || kind === 'port') && joint.closed === undefined;
}

/** Whether what sits in an opened station comes out with it. */
export function comesOut(layout: Layout, station: string, changed: boolean): boolean {
  return changed || jointsAt(layout, station).every((joint) => joint.opens);
}

function isOnPump(id: string): boolean {
  return id.startsWith(onPump);
}

function isOfStation(joint: Joint): joint is StationJoint {
  return joint.station !== undefined;
}
