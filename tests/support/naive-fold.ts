/**
 * A second fold, written from the description of the events alone and importing nothing of the service, so that both
 * must agree for a test to pass. It knows no running state: each question is answered by looking through all events.
 *
 * The description: events of a unit stand in the order in which the work ended (never later than it was recorded),
 * then in the order of `seq`; where two intervals overlap an explicit `after` wins: the one that it names is brought
 * forward to just before it. The last event that says what a station holds is right, and of what one event says, what
 * it changed outweighs what it found; but what was found was only assumed where nothing better was known, so it gives
 * way to what an earlier event vouches for. A content found as it was is there since it came to be there. A mounting says what is on what; settings belong to the pair of control
 * and pump, so a mounting and a taking off leave none; so do values of the circuit, each as last stated, and a state has
 * no such member where there is none. A hold or due stands until a later event brings one of the
 * clears that it names. A record that a correction replaces says nothing any more; the correction stands at the place
 * of what was said first, and what had been done by the time of that was done by then; whoever names the old one with
 * `after` means the new one. What was judged again last says
 * in place of the record what it did; where it names a place it stands on a unit that has nothing else of the record, as if the record
 * were there, recorded when it was, behind what had been recorded by then, and several by when they were recorded; where it says that there is none, the record is not there.
 * The last movement that says so tells whether the unit is in or out; the last hours stated are its hours; from the first
 * retirement on it is retired. A hold that custody clears is not there if any event covers the record that opened it,
 * wherever that event stands. A due that a later event hands over stays, with the record that did so last, and leaves
 * the unit no longer incomplete. What a later event concedes stays as well, with what the last one to do so says of it and
 * its record, unless that takes it back; and it counts in the status that is kept where the concession has an end.
 */
import { isDeepStrictEqual } from 'node:util';
import { withSuperuser } from './test-server.ts';

type Json = Record<string, unknown>;
type Clear = { kind: string; place: string };
type Concession = { until: string | null; limits: Json[] };
type Open = {
  rule: string;
  severity: string;
  clearedBy: Clear[];
  handedOver?: string;
  concession?: Concession & { record: string };
};
export type Event = {
  unit: string;
  seq: number;
  fact: string;
  from: string;
  to: string;
  recorded: string;
  after: string | null;
  effect: Json;
};

/** What differs between the states kept in a database and this fold of its events, a line each; none is right. */
export async function naiveDifferences(superuserUrl: string): Promise<string[]> {
  const byUnit = Map.groupBy(await naiveEvents(superuserUrl), ({ unit }) => unit);
  return await withSuperuser(superuserUrl, async (client) => {
    const { rows: states } = await client.query<{ unit: string; state: string }>(
      'select unit_id as unit, state from unit_states',
    );
    const kept = new Map(states.map(({ unit, state }) => [unit, JSON.parse(state) as Json]));
    return [...new Set([...kept.keys(), ...byUnit.keys()])].sort().flatMap((unit) => {
      const own = byUnit.get(unit) ?? [];
      const state = kept.get(unit);
      if (own.length === 0) return [`unit ${unit}: a state is kept, but there is no event`];
      return state === undefined ? [`unit ${unit}: no state is kept`] : differences(unit, naiveState(own), state);
    });
  });
}

/** All events of a database, as they stand there, by unit and seq. */
export async function naiveEvents(superuserUrl: string): Promise<Event[]> {
  return await withSuperuser(superuserUrl, async (client) => {
    const at = (column: string) => `to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.US"Z"')`;
    const { rows } = await client.query<Omit<Event, 'effect'> & { effect: string }>(`
      select unit_id as unit, seq::int, fact, ${at('performed_from')} as from, ${at('performed_to')} as to,
        ${at('recorded_at')} as recorded, after, effect
      from unit_events order by unit_id, seq`);
    return rows.map((event) => ({ ...event, effect: JSON.parse(event.effect) as Json }));
  });
}

/** Every member that the state of a unit has, each by its own look through the events. */
export function naiveState(events: readonly Event[]): Json {
  return stateOf(whatCounts(events), events);
}

/** The same of what was known at one time, and of the work that was done by another; its status is that of then. */
export function naiveStateAt(events: readonly Event[], performed: string, known: string): Json {
  const heard = events.filter(({ recorded }) => recorded <= known);
  const state = stateOf(
    whatCounts(heard).filter((event) => end(event) <= performed),
    heard,
  );
  const open = state['open'] as Open[];
  const isLeftBe = ({ concession }: Open) => concession !== undefined && (concession.until ?? '9') > performed;
  return { ...state, status: status(open.filter((one) => !isLeftBe(one))) };
}

function stateOf(counting: readonly Event[], events: readonly Event[]): Json {
  const ordered = inOrder(counting);
  const born = ordered.find(({ effect }) => effect['born'] !== undefined)?.effect;
  const open = openFindings(ordered);
  return {
    unit: events[0]?.unit,
    seq: Math.max(...events.map(({ seq }) => seq)),
    born: born?.['born'] ?? null,
    builtAt: born?.['builtAt'] ?? null,
    stations: stations(ordered),
    function: latest(ordered, 'function') ?? null,
    builtFor: latest(ordered, 'builtFor') ?? {},
    mounted: mounted(ordered),
    settings: settings(ordered),
    ...circuit(ordered),
    custody: lastSaid(ordered, 'custody', (event, is) => ({ record: event.fact, is })),
    retired: retirement(ordered),
    hours: lastSaid(ordered, 'hours', (event, hours) => ({ ...(hours as Json), record: event.fact })),
    open,
    mergedInto: latest(ordered, 'mergedInto') ?? null,
    status: status(open),
  };
}

function status(open: readonly Open[]): string {
  const counting = open.filter(({ concession }) => concession?.until !== null);
  if (counting.some(({ severity }) => severity === 'hold')) return 'held';
  return counting.every((due) => 'handedOver' in due) ? 'released' : 'incomplete';
}

function whatCounts(events: readonly Event[]): Event[] {
  const replacementOf = (fact: string) => events.find(({ effect }) => effect['replaces'] === fact);
  const all = [...events, ...broughtHere(events)];
  const lastOf = (fact: string) =>
    events.filter(({ effect }) => effect['judges'] === fact).sort((a, b) => b.seq - a.seq)[0];
  const counting = all.filter(
    (event) =>
      replacementOf(event.fact) === undefined &&
      !('judges' in event.effect) &&
      lastOf(event.fact)?.effect['placed'] !== null,
  );
  return counting.map((event) => {
    let first = event;
    while (typeof first.effect['replaces'] === 'string') {
      const before = all.find(({ fact }) => fact === first.effect['replaces']);
      if (before === undefined) break;
      first = before;
    }
    let after = event.after;
    for (let next = after; next !== null; next = replacementOf(next)?.fact ?? null) after = next;
    const again = lastOf(event.fact);
    const recorded = event.from <= first.recorded ? first.recorded : event.recorded;
    return { ...event, seq: first.seq, recorded, after, effect: again?.effect ?? event.effect };
  });
}

/** Records of which this unit has a judgement alone, a fraction of a place behind what had been recorded by then. */
function broughtHere(events: readonly Event[]): Event[] {
  type Place = { performedFrom: string; performedTo: string; recordedAt: string; after: string | null };
  const here = new Set(events.map(({ fact }) => fact));
  const brought: Event[] = [];
  for (const { unit, effect } of [...events].sort((a, b) => a.seq - b.seq)) {
    const fact = String(effect['judges']);
    if (typeof effect['placed'] !== 'object' || effect['placed'] === null || here.has(fact)) continue;
    here.add(fact);
    const { performedFrom: from, performedTo: to, recordedAt: recorded, after } = effect['placed'] as Place;
    const seq = 0.5 + Math.max(0, ...events.filter((one) => one.recorded <= recorded).map((one) => one.seq));
    brought.push({ unit, seq, fact, from, to, recorded, after, effect: {} });
  }
  return brought;
}

const end = ({ to, recorded }: Event) => (to < recorded ? to : recorded);

function inOrder(events: readonly Event[]): Event[] {
  const key = (event: Event) =>
    `${end(event)} ${event.seq.toFixed(1).padStart(12, '0')} ${event.recorded} ${event.fact}`;
  const list = [...events].sort((a, b) => (key(a) < key(b) ? -1 : 1));
  for (let at = 0; at < list.length; at++) {
    // One that was brought forward may itself come after another; each moves at most once, else two that name each
    // other would change places for ever.
    const moved = new Set(list.slice(0, at + 1));
    for (let event = list[at]; event !== undefined; ) {
      const { from, to, after } = event;
      const named = list.findLast((one) => one.fact === after);
      if (named === undefined || moved.has(named) || named.to < from || to < named.from) break;
      moved.add(named);
      list.splice(list.indexOf(named), 1);
      list.splice(at, 0, named);
      event = named;
    }
  }
  return list;
}

function latest(ordered: readonly Event[], member: string): unknown {
  return ordered.findLast(({ effect }) => effect[member] !== undefined)?.effect[member];
}

function lastSaid(ordered: readonly Event[], member: string, told: (event: Event, said: unknown) => Json): Json | null {
  const event = ordered.findLast(({ effect }) => member in effect);
  return event === undefined ? null : told(event, event.effect[member]);
}

function retirement(ordered: readonly Event[]): Json | null {
  const first = ordered.find(({ effect }) => effect['retired'] === true);
  return first === undefined ? null : { record: first.fact, since: first.to };
}

function stations(ordered: readonly Event[]): Json {
  const part = ({ effect }: Event, member: string) => (effect[member] as Record<string, Json> | undefined) ?? {};
  const named = ordered.flatMap((event) => [
    ...Object.keys(part(event, 'found')),
    ...Object.keys(part(event, 'changed')),
  ]);
  /** As the events before this place leave it. */
  const contentBefore = (place: number, station: string): Json | undefined => {
    const at = ordered.findLastIndex(
      (event, index) => index < place && (station in part(event, 'changed') || station in part(event, 'found')),
    );
    const event = ordered[at];
    if (event === undefined) return undefined;
    const changed = part(event, 'changed')[station];
    if (changed !== undefined) return { ...changed, record: event.fact };
    const found = { ...part(event, 'found')[station], record: event.fact } as Json;
    const earlier = contentBefore(at, station);
    if (earlier === undefined || earlier['elements'] === null) return found;
    const isVouchedFor = ['built', 'plate', 'seen'].includes(String(earlier['basis']));
    if (found['basis'] === 'assumed' && isVouchedFor) return earlier;
    return isDeepStrictEqual(pieces(found), pieces(earlier)) ? { ...found, record: earlier['record'] } : found;
  };
  return Object.fromEntries([...new Set(named)].map((station) => [station, contentBefore(ordered.length, station)]));
}

/** What sits there, however it is listed; null where that isn't known. */
function pieces({ elements }: Json): Record<string, number> | null {
  if (elements === null) return null;
  const counted: Record<string, number> = {};
  for (const { element, quantity } of elements as { element: string; quantity: number }[]) {
    counted[element] = (counted[element] ?? 0) + quantity;
  }
  return counted;
}

type Mounting = { with: string; on: boolean };
const mountingIn = ({ effect }: Event) => effect['mounted'] as Mounting | undefined;

/** The last unit put on, unless a later event takes that same one off. */
function mounted(ordered: readonly Event[]): Json | null {
  const on = ordered.findLastIndex((event) => mountingIn(event)?.on === true);
  const event = ordered[on];
  if (event === undefined) return null;
  const counterpart = mountingIn(event)?.with;
  const isOff = ordered.slice(on + 1).some((later) => mountingIn(later)?.with === counterpart);
  return isOff ? null : { with: counterpart, record: event.fact, since: event.to };
}

function settings(ordered: readonly Event[]): Json {
  const pairSince = ordered.findLastIndex((event) => mountingIn(event) !== undefined);
  const ofPair = ordered.slice(Math.max(pairSince, 0));
  const values = (event: Event) => (event.effect['settings'] as Json | undefined) ?? {};
  return Object.fromEntries(
    [...new Set(ofPair.flatMap((event) => Object.keys(values(event))))].flatMap((setting) => {
      const last = ofPair.findLast((event) => setting in values(event));
      const value = last && values(last)[setting];
      return value === null || last === undefined ? [] : [[setting, { ...(value as Json), record: last.fact }]];
    }),
  );
}

function circuit(ordered: readonly Event[]): Json {
  const stated = ordered
    .slice(
      Math.max(
        0,
        ordered.findLastIndex((event) => mountingIn(event) !== undefined),
      ),
    )
    .flatMap(({ fact, effect }) =>
      Object.entries((effect['circuit'] as Record<string, Json> | undefined) ?? {}).map(
        ([name, value]): [string, Json] => [name, { ...value, record: fact }],
      ),
    );
  return stated.length === 0 ? {} : { circuit: Object.fromEntries(stated) };
}

function openFindings(ordered: readonly Event[]): (Open & { fact: string })[] {
  const list = <T>({ effect }: Event, member: string) => (effect[member] as T[] | undefined) ?? [];
  const isAmong = (clears: Clear[], clear: Clear) => clears.some((one) => isDeepStrictEqual(one, clear));
  const isCovered = (fact: string) => ordered.some((event) => list<string>(event, 'covers').includes(fact));
  return ordered.flatMap((event, index) =>
    list<Open>(event, 'opens').flatMap((finding) => {
      const { severity, clearedBy } = finding;
      const later = ordered.slice(index + 1);
      const clears = later.flatMap((one) => list<Clear>(one, 'clears'));
      if (clears.some((clear) => isAmong(clearedBy, clear))) return [];
      if (clearedBy.some(({ kind }) => kind === 'custody') && isCovered(event.fact)) return [];
      const taker = later.findLast((one) =>
        list<{ fact: string; clear: Clear }>(one, 'handsOver').some(
          ({ fact, clear }) => fact === event.fact && isAmong(clearedBy, clear),
        ),
      );
      const isTaken = severity === 'due' && taker !== undefined;
      const isConceding = ({ effect }: Event) => {
        const concedes = effect['concedes'] as { clear: Clear } | undefined;
        return concedes !== undefined && isAmong(clearedBy, concedes.clear);
      };
      const decision = later.findLast(isConceding);
      const given = (decision?.effect['concedes'] as { concession: Concession | null } | undefined)?.concession;
      const { concession: carried, ...rest } = finding;
      const standing = { ...rest, fact: event.fact, ...(isTaken && { handedOver: taker.fact }) };
      if (decision === undefined) return [carried === undefined ? standing : { ...standing, concession: carried }];
      return [given ? { ...standing, concession: { ...given, record: decision.fact } } : standing];
    }),
  );
}

function differences(unit: string, expected: Json, found: Json): string[] {
  return [...new Set([...Object.keys(expected), ...Object.keys(found)])]
    .filter((member) => !isDeepStrictEqual(expected[member], found[member]))
    .map(
      (member) =>
        `unit ${unit}, ${member}: by the naive fold ${JSON.stringify(expected[member])}, kept ${JSON.stringify(found[member])}`,
    );
}
