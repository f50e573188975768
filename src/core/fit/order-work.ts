/**
 * In which order stations are opened, looked at and closed. One branch at a time, and within it one cavity at a
 * time: what was opened last is closed first, as soon as nothing behind it is left to do. Swapped adjusters and
 * bores left open are the classic mistakes of this work.
 */
import type { Layout } from './layout.ts';
import type { Entry, WaysIn } from './ways-in.ts';

export type Move = { readonly do: 'open' | 'look' | 'close'; readonly station: string };

/** What is entered without being opened is only looked at. */
export function orderWork(layout: Layout, { opened, entered }: WaysIn): Move[] {
  const isOpened = ({ station }: Entry) => opened.includes(station);
  const entries = [...entered.filter(isOpened), ...entered.filter((one) => !isOpened(one))];
  if (layout.body.openTogether === true) return workThrough(entries, isOpened, 'open first');
  return branchesOf(entries).flatMap((branch) => workThrough(branch, isOpened, 'close first'));
}

/** Connected sets of stations, each in the order given; first come, first listed. */
function branchesOf(entries: readonly Entry[]): Entry[][] {
  const branches: Entry[][] = [];
  for (const entry of entries) {
    const joined = branches.filter((branch) => branch.some((other) => touch(entry, other)));
    for (const branch of joined) branches.splice(branches.indexOf(branch), 1);
    branches.push([...joined.flat(), entry]);
  }
  const place = (branch: Entry[]) => Math.min(...branch.map((one) => entries.indexOf(one)));
  return branches
    .map((branch) => branch.sort((a, b) => entries.indexOf(a) - entries.indexOf(b)))
    .sort((a, b) => place(a) - place(b));
}

function touch(a: Entry, b: Entry): boolean {
  return a.way.includes(b.station) || b.way.includes(a.station);
}

function workThrough(
  entries: readonly Entry[],
  isOpened: (entry: Entry) => boolean,
  prefer: 'close first' | 'open first',
): Move[] {
  const moves: Move[] = [];
  let todo = entries;
  const open: Entry[] = [];
  const isReached = ({ way }: Entry) => way.every((through) => open.some(({ station }) => station === through));
  const behind = ({ station }: Entry) => todo.filter(({ way }) => way.includes(station));
  const done = (entry: Entry) => todo.filter((one) => one !== entry);

  for (;;) {
    const reached = todo.filter(isReached);
    const look = reached.find((entry) => !isOpened(entry));
    if (look !== undefined) {
      todo = done(look);
      moves.push({ do: 'look', station: look.station });
      continue;
    }
    const last = open.at(-1);
    const next = nextOf(reached, entries, last === undefined ? [] : behind(last));
    const mayClose = last !== undefined && behind(last).length === 0;
    if (mayClose && (prefer === 'close first' || next === undefined)) {
      open.pop();
      moves.push({ do: 'close', station: last.station });
    } else if (next !== undefined) {
      todo = done(next);
      open.push(next);
      moves.push({ do: 'open', station: next.station });
    } else return moves;
  }
}

/** First what lies behind the station opened last, or leads to it; then whatever else can be opened. */
function nextOf(openable: readonly Entry[], entries: readonly Entry[], wanted: readonly Entry[]): Entry | undefined {
  const leading = new Set(wanted);
  for (const { way } of leading) {
    for (const entry of entries) if (way.includes(entry.station)) leading.add(entry);
  }
  return openable.find((one) => wanted.includes(one)) ?? openable.find((one) => leading.has(one)) ?? openable[0];
}
