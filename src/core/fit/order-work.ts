/**
 * In which order stations are opened, looked at and closed. One branch at a time, and within it one cavity at a
 * time: what was opened last is closed first, as soon as nothing behind it is left to do. Swapped adjusters and
 * bores left open are the classic mistakes of this work.
 */
import type { Layout } from './layout.ts';
import type { WaysIn } from './ways-in.ts';

export type Move = { readonly do: 'open' | 'look' | 'close'; readonly station: string };

/** `looks` are reached and looked at without being opened. */
export function orderWork(layout: Layout, { opened, way }: WaysIn, looks: readonly string[]): Move[] {
  const looked = looks.filter((id) => !opened.includes(id));
  if (layout.body.openTogether === true) return workThrough([...opened], looked, way, 'open first');
  return branchesOf([...opened, ...looked], way).flatMap((branch) =>
    workThrough(
      branch.filter((id) => opened.includes(id)),
      branch.filter((id) => looked.includes(id)),
      way,
      'close first',
    ),
  );
}

/** Connected sets of opened stations, each in the catalogue's order; first come, first listed. */
export function branchesOf(opened: readonly string[], way: WaysIn['way']): string[][] {
  const branches: string[][] = [];
  for (const station of opened) {
    const joined = branches.filter((branch) => branch.some((other) => touches(way, station, other)));
    for (const branch of joined) branches.splice(branches.indexOf(branch), 1);
    branches.push([...joined.flat(), station]);
  }
  const place = (branch: string[]) => Math.min(...branch.map((id) => opened.indexOf(id)));
  return branches
    .map((branch) => branch.sort((a, b) => opened.indexOf(a) - opened.indexOf(b)))
    .sort((a, b) => place(a) - place(b));
}

function touches(way: WaysIn['way'], a: string, b: string): boolean {
  return (way.get(a) ?? []).includes(b) || (way.get(b) ?? []).includes(a);
}

function workThrough(
  stations: readonly string[],
  looks: readonly string[],
  way: WaysIn['way'],
  prefer: 'close first' | 'open first',
): Move[] {
  const moves: Move[] = [];
  const todo = new Set([...stations, ...looks]);
  const open: string[] = [];
  const reached = (id: string) => (way.get(id) ?? []).every((through) => open.includes(through));
  const behind = (id: string) => [...todo].filter((other) => (way.get(other) ?? []).includes(id));

  for (;;) {
    const look = looks.find((id) => todo.has(id) && reached(id));
    if (look !== undefined) {
      todo.delete(look);
      moves.push({ do: 'look', station: look });
      continue;
    }
    const last = open.at(-1);
    const next = nextToOpen(stations, todo, reached, last === undefined ? [] : behind(last), way);
    const mayClose = last !== undefined && behind(last).length === 0;
    if (mayClose && (prefer === 'close first' || next === undefined)) {
      open.pop();
      moves.push({ do: 'close', station: last });
    } else if (next !== undefined) {
      todo.delete(next);
      open.push(next);
      moves.push({ do: 'open', station: next });
    } else return moves;
  }
}

/** First what lies behind the station opened last, or leads to it; then whatever else can be opened. */
function nextToOpen(
  stations: readonly string[],
  todo: ReadonlySet<string>,
  reached: (id: string) => boolean,
  wanted: readonly string[],
  way: WaysIn['way'],
): string | undefined {
  const openable = stations.filter((id) => todo.has(id) && reached(id));
  const leading = new Set(wanted);
  for (const id of leading) for (const through of way.get(id) ?? []) leading.add(through);
  return openable.find((id) => wanted.includes(id)) ?? openable.find((id) => leading.has(id)) ?? openable[0];
}
