/**
 * Which stations to open. Among all sets of stations that reach what must be reached: fewest joints broken, then
 * fewest settings disturbed, then fewest stations opened, then the order in which ways are listed. Solved over all
 * stations together, exactly: every set that can't be made smaller is tried, with bounds.
 */
import type { Joint } from '../catalogue/edition.ts';
import { onceFor } from '../once-for.ts';
import type { Disturbing } from './disturbed-settings.ts';
import type { Held } from './fit.ts';
import { jointsAround, type Layout } from './layout.ts';

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
  const places = placesOf(layout, changed, toReach, before, disturbing);
  const cost = openAll(
    places.filter(({ id }) => changed.has(id)),
    nothing,
  );
  const all: Candidate = { opened: reachable, cost: anything, listed: [] };
  return waysWithin(layout, explore(places, cost, all).opened, toReach);
}

/**
 * The ways used when exactly these stations are opened, and the stations of the list that no way then reaches.
 * Where several ways are open the first listed counts.
 */
export function waysWithin(layout: Layout, opened: ReadonlySet<string>, toReach: readonly string[]): Reached {
  const entered: Entry[] = [];
  const unreached: string[] = [];
  for (const [id, ways] of layout.ways) {
    if (!opened.has(id) && !toReach.includes(id)) continue;
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

/** A station while ways are tried: what opening it costs, and whether it lies open. */
type Place = {
  readonly id: string;
  /** Whether it must be got at, opened or not. */
  readonly toReach: boolean;
  readonly ways: readonly (readonly Place[])[];
  /** How many joints are broken for it. */
  readonly joints: number;
  readonly settings: readonly Lost[];
  open: boolean;
};
/** A setting, and how many of the stations that disturb it lie open. */
type Lost = { to: number };
type Cost = { readonly joints: number; readonly settings: number; readonly stations: number };
/** `listed`: for each station the place of its way in the list. */
type Candidate = { readonly opened: ReadonlySet<string>; readonly cost: Cost; readonly listed: readonly number[] };

const nothing: Cost = { joints: 0, settings: 0, stations: 0 };
const anything: Cost = { joints: Infinity, settings: Infinity, stations: Infinity };

function placesOf(
  layout: Layout,
  changed: ReadonlySet<string>,
  toReach: readonly string[],
  before: Contents,
  disturbing: Disturbing,
): readonly Place[] {
  const lost = layout.settings.map(({ id }) => ({ id, to: 0 }));
  const places = [...layout.ways].map(([id, listed]) => ({
    ...{ id, toReach: toReach.includes(id), listed, ways: [] as Place[][], open: false },
    joints: jointsAround(layout, id, changed.has(id), before.get(id) ?? null).length,
    settings: lost.filter((setting) => disturbing.get(id)?.includes(setting.id)),
  }));
  for (const { listed, ways } of places) {
    for (const way of listed) ways.push(places.filter(({ id }) => way.includes(id)));
  }
  return places;
}

/** The best of what is known and of whatever opens the places that lie open, at this cost, and more. */
function explore(places: readonly Place[], cost: Cost, known: Candidate): Candidate {
  // Opening more never breaks fewer joints, so what is dearer already can't become the best.
  if (dearer(cost, known.cost) > 0) return known;
  const next = places.find((place) => (place.open || place.toReach) && !place.ways.some(isOpen));
  if (next === undefined) return betterOf(known, places, cost);
  let best = known;
  for (const way of next.ways) {
    const more = way.filter((place) => !place.open);
    best = explore(places, openAll(more, cost), best);
    for (const place of more) shut(place);
  }
  return best;
}

function isOpen(way: readonly Place[]): boolean {
  return way.every((place) => place.open);
}

function openAll(more: readonly Place[], { joints, settings, stations }: Cost): Cost {
  const cost = { joints, settings, stations: stations + more.length };
  for (const place of more) {
    place.open = true;
    cost.joints += place.joints;
    for (const setting of place.settings) if (setting.to++ === 0) cost.settings += 1;
  }
  return cost;
}

function shut(place: Place): void {
  place.open = false;
  for (const setting of place.settings) setting.to -= 1;
}

/** What lies open reaches all that must be reached: it takes the place of what is known where it is better. */
function betterOf(known: Candidate, places: readonly Place[], cost: Cost): Candidate {
  const listed = places.map(({ open, toReach, ways }) => (open || toReach ? ways.findIndex(isOpen) : 0));
  if ((dearer(cost, known.cost) || later(listed, known.listed)) >= 0) return known;
  return { opened: new Set(places.filter(({ open }) => open).map(({ id }) => id)), cost, listed };
}

/** More than 0 where it is. */
function dearer(one: Cost, other: Cost): number {
  return one.joints - other.joints || one.settings - other.settings || one.stations - other.stations;
}

/** More than 0 where it is. Both are of one length. */
function later(one: readonly number[], other: readonly number[]): number {
  return one.map((listed, at) => listed - Number(other[at])).find((difference) => difference !== 0) ?? 0;
}

const reachableIn = onceFor((layout: Layout): ReadonlySet<string> => {
  const reachable = new Set<string>();
  for (let before = -1; before < reachable.size; ) {
    before = reachable.size;
    for (const [id, ways] of layout.ways) {
      if (ways.some((way) => way.every((through) => reachable.has(through)))) reachable.add(id);
    }
  }
  return reachable;
});
