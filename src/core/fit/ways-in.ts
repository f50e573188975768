/**
 * Which stations to open. Among all sets of stations that reach what must be reached: fewest joints broken, then
 * fewest settings disturbed, then fewest stations opened, then the order in which ways are listed. Solved over all
 * stations together, exactly: every set that can't be made smaller is tried, with bounds.
 */
import type { Joint } from '../catalogue/edition.ts';
import { jointsBroken, type Layout, waysInto } from './layout.ts';

export type WaysIn = {
  /** In the catalogue's order. */
  readonly opened: readonly string[];
  /** The way used into each opened or looked-at station; an empty list: from outside. */
  readonly way: ReadonlyMap<string, readonly string[]>;
};

/** What was found: the ways, and the stations that can't be reached on what is at hand. */
export type Reached = { readonly ways: WaysIn; readonly unreached: readonly string[] };

/**
 * `toOpen` are changed, `toReach` only looked at. Every station of a checked edition can be reached, but one behind
 * the pump's own stations only while the control is on a pump.
 */
export function chooseWays(layout: Layout, toOpen: readonly string[], toReach: readonly string[]): Reached {
  const search = { layout, changed: new Set(toOpen), toReach, best: null as Candidate | null };
  explore(search, new Set(toOpen));
  return waysWithin(layout, search.best?.opened ?? new Set(toOpen), toReach);
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
    const fromOutside = (station.access ?? []).length === 0;
    const used = fromOutside ? [] : waysInto(layout, station).find((one) => one.every((id) => opened.has(id)));
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
  best: Candidate | null;
};

function explore(search: Search, opened: ReadonlySet<string>): void {
  const { layout, changed, toReach } = search;
  const known = search.best?.cost;
  const cost = counts(layout, opened, changed);
  // Opening more never breaks fewer joints, so what is dearer already can't become the best.
  if (known !== undefined && isLess(known.slice(0, cost.length), cost)) return;
  const { ways, unreached } = waysWithin(layout, opened, toReach);
  const next = layout.stations.find((station) => station.id === unreached[0]);
  if (next === undefined) {
    const whole = [...cost, ...listedOrder(layout, ways)];
    if (known === undefined || isLess(whole, known)) search.best = { opened, cost: whole };
    return;
  }
  for (const way of waysInto(layout, next)) explore(search, new Set([...opened, ...way]));
}

function counts(layout: Layout, opened: ReadonlySet<string>, changed: ReadonlySet<string>): number[] {
  const disturbed = layout.settings.filter((setting) => opened.has(setting.station));
  return [jointsBrokenBy(layout, opened, changed).length, disturbed.length, opened.size];
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
