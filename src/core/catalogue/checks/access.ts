/** Whether every station can be reached on every pump that its body may sit on, and from outside where something is set. */
import type { Edition, Station } from '../edition.ts';
import { sizesWith, stationsOf } from '../lookup.ts';
import { distinct, type Path, type Problem, problem } from '../problem.ts';
import { ownersOf, sizesOf } from './places.ts';

type Placed = { readonly path: Path; readonly station: Station };
/** A control on a pump: the stations of both under the names that they have beside each other. */
type Pair = { readonly name: string; readonly stations: readonly Placed[] };

export function cycleInAccess(edition: Edition): Problem[] {
  const problems = pairsOf(edition).flatMap((pair) =>
    pair.stations.flatMap(({ path, station }) => {
      const circle = wayBackTo(station.id, pair);
      if (circle === null) return [];
      return [problem([...path, 'access'], `${station.id} is reached through itself: ${circle.join(' through ')}`)];
    }),
  );
  return distinct(problems);
}

export function unreachableStation(edition: Edition): Problem[] {
  const problems = pairsOf(edition).flatMap((pair) => {
    const reached = reachedIn(pair);
    return pair.stations
      .filter(({ station }) => !reached.has(station.id))
      .map(({ path, station }) => problem(path, `no way reaches ${station.id} of ${pair.name}: correct its access`));
  });
  return distinct(problems);
}

/** A setting is made on a running pump, with everything closed but the locknuts of its own station. */
export function settingOutOfReach(edition: Edition): Problem[] {
  return ownersOf(edition).flatMap(({ path, stations, settings }) => {
    const behind = new Set(stations.filter((one) => (one.access ?? []).length > 0).map((one) => one.id));
    return settings.flatMap(({ id, station }, at) => {
      if (!behind.has(station)) return [];
      const detail = `${id} is set while the pump runs, but ${station} lies behind other stations: name the station that is turned from outside`;
      return [problem([...path, 'settings', at, 'station'], detail)];
    });
  });
}

function pairsOf(edition: Edition): readonly Pair[] {
  const paths = new Map(sizesOf(edition).map(({ size, path }) => [size, path]));
  return edition.bodies.flatMap((body, at) => {
    const sizes = sizesWith(edition, body.id);
    return (sizes.length > 0 ? sizes : [null]).map((size) => {
      const bodyPath = ['bodies', at, 'stations'];
      const sizePath = [...((size && paths.get(size)) ?? []), 'stations'];
      const placed = stationsOf(body, size).map((station, nth) => ({
        station,
        path: nth < body.stations.length ? [...bodyPath, nth] : [...sizePath, nth - body.stations.length],
      }));
      return { name: size === null ? body.id : `${body.id} on size ${size.id}`, stations: placed };
    });
  });
}

/** The shortest circle from a station back to itself, over all ways of each; null when there is none. */
function wayBackTo(start: string, pair: Pair): readonly string[] | null {
  const through = new Map(pair.stations.map(({ station }) => [station.id, (station.access ?? []).flat()]));
  const seen = new Set<string>();
  const walks = [{ end: start, walked: [start] }];
  for (const { end, walked } of walks) {
    for (const next of through.get(end) ?? []) {
      if (next === start) return [...walked, start];
      if (!seen.has(next)) walks.push({ end: next, walked: [...walked, next] });
      seen.add(next);
    }
  }
  return null;
}

function reachedIn(pair: Pair): ReadonlySet<string> {
  const reached = new Set<string>();
  let before = -1;
  while (before < reached.size) {
    before = reached.size;
    for (const { station } of pair.stations) {
      const ways = station.access ?? [];
      if (ways.length === 0 || ways.some((way) => way.every((place) => reached.has(place)))) reached.add(station.id);
    }
  }
  return reached;
}
