/**
 * What must lie open to change some stations, by trying everything. Two oracles that share only the meaning of
 * "reachable": every choice of one way per station, and every set of stations.
 */
import { disturbedAt, jointsAt, type Layout, waysTo } from './layout.ts';

/** `changed` get another content; `looked` need only be got at; `absent` are joints known not to be there as yet. */
export type Errand = { changed: readonly string[]; looked: readonly string[]; absent: readonly string[] };
export type Disturbance = { joints: number; settings: number; stations: number };
export type WayIn = Disturbance & { opened: ReadonlySet<string> };

/** Fewest joints, then fewest settings, then fewest stations; of equals the first in listed order leads. */
export function bestWaysIn(layout: Layout, errand: Errand): WayIn[] {
  // A station whose every way leads over what isn't at hand can't be opened, whatever else is chosen.
  const ways = choicesOfWay(layout)
    .map((choice) => openingBy(errand, choice))
    .filter((opened) => allows(layout, opened, errand));
  const costed = ways.map((opened) => ({ opened, ...disturbance(layout, opened, errand) }));
  const [best] = costed.toSorted(byDisturbance);
  return best === undefined ? [] : costed.filter((way) => byDisturbance(way, best) === 0);
}

/** Every set of stations that allows the errand: each of the set can be opened, one after the other. */
export function setsThatAllow(layout: Layout, errand: Errand): ReadonlySet<string>[] {
  const stations = [...layout.stations.keys()];
  const sets = Array.from({ length: 2 ** stations.length }, (_, bits) => stations.filter((_id, i) => (bits >> i) & 1));
  return sets.map((set) => new Set(set)).filter((set) => allows(layout, set, errand));
}

export function allows(layout: Layout, set: ReadonlySet<string>, { changed, looked }: Errand): boolean {
  return (
    changed.every((id) => set.has(id)) &&
    canAllBeOpened(layout, set) &&
    looked.every((id) => reachedThrough(layout, id, set))
  );
}

export function canAllBeOpened(layout: Layout, set: ReadonlySet<string>): boolean {
  return openable(layout, set).size === set.size;
}

/** Those of some stations that can be opened, one after the other. */
export function openable(layout: Layout, stations: Iterable<string>): ReadonlySet<string> {
  const open = new Set<string>();
  for (let before = -1; before < open.size; ) {
    before = open.size;
    for (const station of stations) if (reachedThrough(layout, station, open)) open.add(station);
  }
  return open;
}

export function disturbance(layout: Layout, opened: ReadonlySet<string>, errand: Errand): Disturbance {
  const broken = new Set<string>();
  for (const id of opened)
    for (const joint of jointsBrokenAt(layout, id, errand.changed.includes(id), errand.absent)) broken.add(joint);
  const settings = new Set([...opened].flatMap((id) => disturbedAt(layout, id)));
  return { joints: broken.size, settings: settings.size, stations: opened.size };
}

/** Or closed there, where `absent` are joints that what is there then doesn't bring. */
export function jointsBrokenAt(layout: Layout, station: string, changed: boolean, absent: readonly string[]): string[] {
  return jointsAt(layout, station)
    .filter((joint) => joint.opens || changed || joint.closed !== undefined)
    .filter((joint) => !absent.includes(joint.id))
    .map((joint) => joint.id);
}

/** Which stations hang together: one is reached through the other, or both lead to a third. Station to branch name. */
export function branchesOf(
  layout: Layout,
  opened: ReadonlySet<string>,
  looked: readonly string[],
): Map<string, string> {
  const branch = new Map([...opened, ...looked].map((station) => [station, station]));
  const join = (one: string, other: string) => {
    const [from, to] = [branch.get(one), branch.get(other)];
    for (const [station, name] of branch) if (name === from && to !== undefined) branch.set(station, to);
  };
  for (const station of branch.keys()) {
    for (const way of waysTo(layout, station)) {
      if (way.every((through) => opened.has(through))) for (const through of way) join(station, through);
    }
  }
  return branch;
}

function byDisturbance(one: Disturbance, other: Disturbance): number {
  return one.joints - other.joints || one.settings - other.settings || one.stations - other.stations;
}

function reachedThrough(layout: Layout, station: string, open: ReadonlySet<string>): boolean {
  const ways = waysTo(layout, station);
  return ways.length === 0 || ways.some((way) => way.every((through) => open.has(through)));
}

/** One way for each station, first ways first, the station listed last changing fastest. */
function choicesOfWay(layout: Layout): Map<string, string[]>[] {
  let choices: Map<string, string[]>[] = [new Map()];
  for (const station of layout.stations.keys()) {
    const ways = waysTo(layout, station).filter((way) => way.every((through) => layout.stations.has(through)));
    if (ways.length > 0) choices = choices.flatMap((choice) => ways.map((way) => new Map([...choice, [station, way]])));
  }
  return choices;
}

function openingBy(errand: Errand, choice: ReadonlyMap<string, string[]>): Set<string> {
  const opened = new Set<string>();
  const getAt = (station: string): void => {
    for (const through of choice.get(station) ?? []) open(through);
  };
  const open = (station: string): void => {
    if (opened.has(station)) return;
    opened.add(station);
    getAt(station);
  };
  errand.changed.forEach(open);
  errand.looked.forEach(getAt);
  return opened;
}
