/** The stations of a body as a tree: each under the one through which it is reached. */
import type { Station } from '../core/catalogue/edition.ts';

export type Branch = { readonly station: Station; readonly depth: number; readonly parent: string | null };

/**
 * In the order in which they are drawn: a station, then all behind it. Of several ways in, the one that was opened
 * counts, else the first listed.
 */
export function branchesOf(stations: readonly Station[], opened: ReadonlySet<string>): readonly Branch[] {
  const byId = new Map(stations.map((station) => [station.id, station]));
  const depths = new Map<string, number>();
  const wayInto = ({ access = [] }: Station): readonly string[] =>
    access.find((way) => way.every((id) => opened.has(id))) ?? access[0] ?? [];
  /** `under` keeps a body that is no tree, which no published one is, from being walked for ever. */
  const depthOf = (station: Station, under: readonly string[]): number => {
    const known = depths.get(station.id);
    if (known !== undefined) return known;
    const inFront = wayInto(station).flatMap((id) => {
      const other = byId.get(id);
      return other === undefined || under.includes(id) ? [] : [depthOf(other, [...under, id]) + 1];
    });
    const depth = Math.max(0, ...inFront);
    depths.set(station.id, depth);
    return depth;
  };
  const parents = new Map(
    stations.map((station) => {
      const depth = depthOf(station, [station.id]);
      const way = wayInto(station).filter((id) => byId.has(id) && depths.get(id) === depth - 1);
      return [station.id, way.at(-1) ?? null] as const;
    }),
  );
  const below = (parent: string | null): Branch[] =>
    stations
      .filter((station) => parents.get(station.id) === parent)
      .flatMap((station) => [{ station, depth: depths.get(station.id) ?? 0, parent }, ...below(station.id)]);
  return below(null);
}
