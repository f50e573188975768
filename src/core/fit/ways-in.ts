/**
 * Which stations to open. Among all sets of stations that reach what must be reached: fewest joints broken, then
 * fewest settings disturbed, then fewest stations opened, then the order in which ways are listed. Solved over all
 * stations together, exactly: every set that can't be made smaller is tried, with bounds.
 */
import type { Joint } from '../catalogue/edition.ts';
import { type Disturbing, disturbedBy } from './disturbed-settings.ts';
import type { Held } from './fit.ts';
import { jointsAround, type Layout, waysInto } from './layout.ts';

/** A station that is opened or looked at, and the way used into it, by its place in the list; 0 as well from outside. */
export type Entry = { readonly station: string; readonly way: readonly string[]; readonly listed: number };
/** What each station holds; null, or no entry: nobody knows. */
export type Contents = ReadonlyMap<string, readonly Held[] | null>;
export type WaysIn = {
  /** In the catalogue's order, both. */
  readonly opened: readonly string[];
  readonly entered: readonly Entry[];
};

/** What was found: the ways, and the stations that can't be reached on what is at hand. */
export type Reached = { readonly ways: WaysIn; readonly unreached: readonly string[] };

/**
 * `toOpen` are changed, `toReach` only looked at; `before` is what each station holds; `disturbing` names the settings that opening a station disturbs.
 * Every station of a checked edition can be reached, but some only through a pump that may not be at hand.
 */
export function chooseWays(
  layout: Layout,
  toOpen: readonly string[],
  toReach: readonly string[],
  before: Contents,
  disturbing: Disturbing,
): Reached {
  const changed = new Set(toOpen);
  const reachable = reachableIn(layout);
  const unreached = [...toOpen, ...toReach].filter((id) => !reachable.has(id));
  if (unreached.length > 0) return { ways: waysWithin(layout, changed, toReach).ways, unreached };
  const search = { layout, changed, toReach, before, disturbing };
  return waysWithin(layout, explore(search, changed, candidate(search, reachable)).opened, toReach);
}

/**
 * The ways used when exactly these stations are opened, and the stations of the list that no way then reaches.
 * Where several ways are open the first listed counts.
 */
export function waysWithin(layout: Layout, opened: ReadonlySet<string>, toReach: readonly string[]): Reached {
  const entered: Entry[] = [];
  const unreached: string[] = [];
  for (const station of layout.stations) {
    const { id } = station;
    if (!opened.has(id) && !toReach.includes(id)) continue;
    const ways = waysInto(layout, station);
    const way = ways.find((one) => one.every((through) => opened.has(through)));
    if (way === undefined) unreached.push(id);
    else entered.push({ station: id, way, listed: ways.indexOf(way) });
  }
  const inOrder = layout.stations.map((station) => station.id).filter((id) => opened.has(id));
  return { ways: { opened: inOrder, entered }, unreached };
}

/**
 * The joints broken when these stations, holding this, are opened and, of them, `changed` given another content; or
 * the joints closed when they then hold it.
 */
export function jointsWorked(
  layout: Layout,
  opened: Iterable<string>,
  changed: ReadonlySet<string>,
  contents: Contents,
): Joint[] {
  const worked = new Set(
    [...opened].flatMap((id) => jointsAround(layout, id, changed.has(id), contents.get(id) ?? null)),
  );
  return layout.joints.filter((joint) => worked.has(joint));
}

/** Joints, settings, stations, and for each station of the catalogue the place of its way in the list. */
type Cost = { readonly counts: readonly number[]; readonly listed: readonly number[] };
type Candidate = { readonly opened: ReadonlySet<string>; readonly cost: Cost };
type Search = {
  readonly layout: Layout;
  readonly changed: ReadonlySet<string>;
  readonly toReach: readonly string[];
  readonly before: Contents;
  readonly disturbing: Disturbing;
};

/** The best of what is known and of whatever opens these stations and more. */
function explore(search: Search, opened: ReadonlySet<string>, known: Candidate): Candidate {
  const { layout, toReach } = search;
  // Opening more never breaks fewer joints, so what is dearer already can't become the best.
  if (difference(known.cost.counts, countsOf(search, opened)) < 0) return known;
  const [unreached] = waysWithin(layout, opened, toReach).unreached;
  const next = layout.stations.find((station) => station.id === unreached);
  if (next === undefined) {
    const found = candidate(search, opened);
    const { counts, listed } = found.cost;
    return (difference(counts, known.cost.counts) || difference(listed, known.cost.listed)) < 0 ? found : known;
  }
  return waysInto(layout, next).reduce((best, way) => explore(search, new Set([...opened, ...way]), best), known);
}

/** A set of stations that reaches all that must be reached. */
function candidate(search: Search, opened: ReadonlySet<string>): Candidate {
  const { ways } = waysWithin(search.layout, opened, search.toReach);
  const listed = search.layout.stations.map(({ id }) => ways.entered.find((one) => one.station === id)?.listed ?? 0);
  return { opened, cost: { counts: countsOf(search, opened), listed } };
}

function countsOf({ layout, changed, before, disturbing }: Search, opened: ReadonlySet<string>): number[] {
  return [jointsWorked(layout, opened, changed, before).length, disturbedBy(disturbing, opened).size, opened.size];
}

function reachableIn(layout: Layout): ReadonlySet<string> {
  const reachable = new Set<string>();
  for (let before = -1; before < reachable.size; ) {
    before = reachable.size;
    for (const station of layout.stations) {
      if (waysInto(layout, station).some((way) => way.every((id) => reachable.has(id)))) reachable.add(station.id);
    }
  }
  return reachable;
}

/** Less than 0 where the first number that differs is less. Of lists of one length. */
function difference(a: readonly number[], b: readonly number[]): number {
  return a.map((one, index) => one - Number(b[index])).find((one) => one !== 0) ?? 0;
}
