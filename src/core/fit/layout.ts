/** A control's body, and the pump under it where that is at hand, as one set of places. */
import type { Body, Joint, Setting, Size, Station } from '../catalogue/edition.ts';
import { jointsOf, onPump, settingsOf, stationsOf } from '../catalogue/lookup.ts';
import { type Content, type Fit, type Held, notKnown } from './fit.ts';

export type Layout = {
  readonly body: Body;
  readonly size: Size | null;
  /** In the catalogue's order. */
  readonly stations: readonly Station[];
  readonly station: ReadonlyMap<string, Station>;
  readonly joints: readonly StationJoint[];
  readonly mountingJoints: readonly Joint[];
  readonly settings: readonly Setting[];
  /** Control and pump are both there, but not together yet: no way leads from one into the other. */
  readonly apart: boolean;
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
  const stations = stationsOf(body, size);
  const joints = jointsOf(body, size);
  return {
    body,
    size,
    stations,
    station: new Map(stations.map((station) => [station.id, station])),
    joints: joints.filter(isOfStation),
    mountingJoints: joints.filter((joint) => !isOfStation(joint)),
    settings: settingsOf(body, size),
    apart,
  };
}

export function jointsAt(layout: Layout, station: string): readonly StationJoint[] {
  return layout.joints.filter((joint) => joint.station === station);
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

/** The listed ways into a station that can be used on what is at hand; an empty way is one from outside. */
export function waysInto(layout: Layout, { id: station, access = [] }: Station): readonly (readonly string[])[] {
  if (access.length === 0) return [[]];
  return access.filter((way) => way.every((id) => isAtHand(layout, id, station)));
}

function isAtHand(layout: Layout, id: string, from: string): boolean {
  return layout.station.has(id) && (!layout.apart || isOnPump(id) === isOnPump(from));
}

function isOnPump(id: string): boolean {
  return id.startsWith(onPump);
}

function isOfStation(joint: Joint): joint is StationJoint {
  return joint.station !== undefined;
}
