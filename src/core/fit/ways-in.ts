/**
 * Which stations to open. Among all sets of stations that reach what must be reached: fewest joints broken, then
 * fewest settings disturbed, then fewest stations opened, then the order in which ways are listed. Solved over all
 * stations together, exactly: every set that can't be made smaller is tried, with bounds.
 */
import type { Joint } from '../catalogue/edition.ts';
import { isFromOutside, jointsBroken, type Layout, waysInto } from './layout.ts';

export type WaysIn = {
  /** In the catalogue's order. */
  readonly opened: readonly string[];
  /** The way used into each opened or looked-at station; an empty list: from outside. */
  readonly way: ReadonlyMap<string, readonly string[]>;
};

/** What was found: the ways, and the stations that can't be reached on what is at hand. */
export type Reached = { readonly ways: WaysIn; readonly unreached: readonly string[] };

/**
 * `toOpen` are changed, `toReach` only looked at; `disturbs` names the settings that opening a station disturbs. Every
 * station of a checked edition can be reached, but some only through a pump that may not be at hand.
 */
export function chooseWays(
  layout: Layout,
  toOpen: readonly string[],
  toReach: readonly string[],
  disturbs: ReadonlyMap<string, readonly string[]>,
): Reached {
  const changed = new Set(toOpen);
  const reachable = reachableIn(layout);
  const unreached = [...toOpen, ...toReach].filter((id) => !reachable.has(id));
  if (unreached.length > 0) return { ways: waysWithin(layout, changed, toReach).ways, unreached };
  const search = { layout, changed, toReach, disturbs };
  return waysWithin(layout, explore(search, changed, candidate(search, reachable)).opened, toReach);
}

/**
 * The ways used when exactly these stations are opened, and the stations of the list that no way then reaches.
 * Where several ways are open the first listed counts.
 */
export function waysWithin(layout: Layout, opened: ReadonlySet<string>, toReach: readonly string[]): Reached {
  const way = new Map<string, readonly string[]>();
  const unreached: string[] = [];
  for (const station of layout.stations) {
    if (!opened.has(station.id) && !toReach.includes(station.id)) continue;
    const used = isFromOutside(station)
      ? []
      : waysInto(layout, station).find((way) => way.every((id) => opened.has(id)));
    if (used === undefined) unreached.push(station.id);
    else way.set(station.id, used);
  }
  const inOrder = layout.stations.map((station) => station.id).filter((id) => opened.has(id));
  return { ways: { opened: inOrder, way }, unreached };
}

/** The joints broken when these stations are opened and, of them, `changed` given another content. */
export function jointsBrokenBy(layout: Layout, opened: Iterable<string>, changed: ReadonlySet<string>): Joint[] {
  const broken = new Set([...opened].flatMap((id) => jointsBroken(layout, id, changed.has(id)).map((one) => one.id)));
  return layout.joints.filter((joint) => broken.has(joint.id));
}

type Candidate = { readonly opened: ReadonlySet<string>; readonly cost: readonly number[] };
type Search = {
  readonly layout: Layout;
  readonly changed: ReadonlySet<string>;
  readonly toReach: readonly string[];
  readonly disturbs: ReadonlyMap<string, readonly string[]>;
};

/** The best of what is known and of whatever opens these stations and more. */
function explore(search: Search, opened: ReadonlySet<string>, known: Candidate): Candidate {
  const { layout, toReach } = search;
  const cost = counts(search, opened);
  // Opening more never breaks fewer joints, so what is dearer already can't become the best.
  if (isLess(known.cost.slice(0, cost.length), cost)) return known;
  const [unreached] = waysWithin(layout, opened, toReach).unreached;
  const next = layout.stations.find((station) => station.id === unreached);
  if (next === undefined) {
    const found = candidate(search, opened);
    return isLess(found.cost, known.cost) ? found : known;
  }
  return waysInto(layout, next).reduce((best, way) => explore(search, new Set([...opened, ...way]), best), known);
}

/** A set of stations that reaches all that must be reached. */
function candidate(search: Search, opened: ReadonlySet<string>): Candidate {
  const { ways } = waysWithin(search.layout, opened, search.toReach);
  return { opened, cost: [...counts(search, opened), ...listedOrder(search.layout, ways)] };
}

function counts({ layout, changed, disturbs }: Search, opened: ReadonlySet<string>): number[] {
  const disturbed = new Set([...opened].flatMap((station) => disturbs.get(station) ?? []));
  return [jointsBrokenBy(layout, opened, changed).length, disturbed.size, opened.size];
}

function reachableIn(layout: Layout): ReadonlySet<string> {
  const reachable = new Set<string>();
  for (let before = -1; before < reachable.size; ) {
    before = reachable.size;
    for (const station of layout.stations) {
      const ways = waysInto(layout, station);
      const isReached = isFromOutside(station) || ways.some((way) => way.every((id) => reachable.has(id)));
      if (isReached) reachable.add(station.id);
    }
  }
  return reachable;
}

/** For each station of the catalogue the place of its way in the list, 0 as well where it is not entered. */
function listedOrder(layout: Layout, { way }: WaysIn): number[] {
  return layout.stations.map((station) => {
    const used = way.get(station.id);
    return used === undefined ? 0 : Math.max(0, waysInto(layout, station).indexOf(used));
  });
}

function isLess(a: readonly number[], b: readonly number[]): boolean {
  const at = a.findIndex((one, index) => one !== b[index]);
  return at >= 0 && (a[at] ?? 0) < (b[at] ?? 0);
}
