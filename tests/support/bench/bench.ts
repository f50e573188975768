/**
 * One control on a bench (and the pump it sits on), as a pair of hands meets it: stations with what sits in them,
 * joints that are closed or broken. It knows the physical meaning of access and joints (the head of `edition.ts`) and
 * nothing of functions, kits or plans, and it refuses what hands could not do, with a sentence.
 *
 * Five things that the text leaves to common sense: within one station the joint that holds an element lies under
 * the joints that open it; a locknut (`after-setting`) is got at from outside, whatever else is closed, and an adjuster
 * turns only while its locknuts are loose; what isn't at hand (a station of the pump, while the control is on the
 * shelf) is no way in; and a control that comes from the shelf may have its locknuts open, so that a step that loosens
 * one has nothing to do. Who has looked and found nothing that brings a joint has none to turn, out or in; of a locknut
 * that is seen from outside.
 */
import { comesWithPart, isAbsent, isOnPump, jointsAt, type Layout, waysTo } from './layout.ts';
import { type Bag, bagOf, type Piece, put, shown, total } from './pieces.ts';

export type Bench = ReturnType<typeof benchOf>;

/** `apart`: the control lies beside the pump that it shall go on, its locknuts in `loose` still open. */
export type Start = { readonly apart?: boolean; readonly loose?: readonly string[] };

export function benchOf(
  layout: Layout,
  contents: Readonly<Record<string, readonly Piece[]>>,
  { apart = false, loose = [] }: Start = {},
) {
  const inside = new Map<string, Bag>();
  for (const id of layout.stations.keys()) inside.set(id, bagOf(contents[id] ?? []));
  const aside = new Map<string, Bag>();
  const bagAt = (station: string): Bag => found(inside.get(station), `station ${station}`);
  const brought = [...layout.joints.values()].filter((joint) => comesWithPart(layout, joint));
  const isGone = (id: string) =>
    brought.some((joint) => joint.id === id && isAbsent(layout, joint, bagAt(joint.station).keys()));
  /** Neither what sits in the station nor what came out of it brings the joint. */
  const wasNever = (id: string) =>
    isGone(id) &&
    brought.some((joint) => joint.id === id && isAbsent(layout, joint, (aside.get(joint.station) ?? new Map()).keys()));
  const broken = new Set<string>([
    ...loose,
    ...(apart ? layout.mounting.keys() : []),
    ...brought.map((joint) => joint.id).filter(wasNever),
  ]);
  const seen = new Set<string>();
  const everBroken: string[] = [];
  const everClosed: string[] = [];
  const backedOff = new Set<string>();
  /** Settings that hands have touched and not made since. */
  const lost = new Set<string>();
  let isMounted = !apart;
  const newParts: Bag = new Map();

  const jointNamed = (id: string) => found(layout.joints.get(id), `joint ${id}`);
  const asideOf = (station: string): Bag => {
    const bag = aside.get(station) ?? new Map();
    aside.set(station, bag);
    return bag;
  };

  const isOpen = (station: string): boolean => {
    if (!inside.has(station)) return false;
    const joints = jointsAt(layout, station);
    if (!isReachable(station) || joints.some((joint) => joint.opens && !broken.has(joint.id))) return false;
    return joints.some((joint) => !joint.opens) || bagAt(station).size === 0;
  };
  const isReachable = (station: string): boolean => {
    const ways = waysTo(layout, station);
    const together = (through: string) => isMounted || isOnPump(through) === isOnPump(station);
    return ways.length === 0 || ways.some((way) => way.every((through) => together(through) && isOpen(through)));
  };
  const mustReach = (station: string, deed: string): void => {
    bagAt(station);
    if (!isReachable(station)) throw new Error(`can't ${deed}: ${station} is not reachable`);
  };
  const mustBeLoose = (station: string, deed: string): void => {
    mustReach(station, deed);
    const closed = jointsAt(layout, station).find((joint) => !broken.has(joint.id));
    if (closed !== undefined) throw new Error(`can't ${deed}: joint ${closed.id} is closed`);
  };
  const loseWhatSprings = (element: string): void => {
    for (const [setting, springs] of layout.springs) if (springs.includes(element)) lost.add(setting);
  };
  const isSeen = (id: string) => seen.has(jointNamed(id).station) || jointNamed(id).closed !== undefined;
  const isLoose = (id: string) => broken.has(id) && !isGone(id);
  const openJoint = () =>
    [...broken].find((id) => layout.joints.has(id) && jointNamed(id).closed === undefined && isLoose(id));
  const locknutsFor = (id: string) => {
    const { station } = found(layout.settings.get(id), `setting ${id}`);
    if (!isReachable(station)) throw new Error(`can't turn ${id}: ${station} is not reachable`);
    return jointsAt(layout, station).filter((joint) => joint.closed !== undefined);
  };
  const isTurned = (id: string) => layout.settings.get(id)?.adjusted !== false;
  const mustTurn = (id: string, deed: string): void => {
    if (!isTurned(id)) throw new Error(`can't ${deed} ${id}: it is only read`);
    const tight = locknutsFor(id).find((joint) => !broken.has(joint.id));
    if (tight !== undefined) throw new Error(`can't ${deed} ${id}: ${tight.id} is tight`);
  };
  const mustRun = (deed: string): void => {
    const open = openJoint() ?? [...layout.mounting.keys()].find((joint) => broken.has(joint));
    if (open !== undefined) throw new Error(`can't ${deed}: joint ${open} is open`);
    if (!isMounted) throw new Error(`can't ${deed}: the control is not on the pump`);
  };
  const mustBeTight = (id: string): void => {
    const loosened = locknutsFor(id).find((joint) => isLoose(joint.id));
    if (loosened !== undefined) throw new Error(`can't read ${id}: ${loosened.id} is loose`);
  };
  const mustLeave = (station: string, deed: string, over: (joint: { id: string; opens: boolean }) => boolean): void => {
    const wrong = jointsAt(layout, station).find((joint) => joint.closed === undefined && over(joint));
    if (wrong !== undefined) throw new Error(`can't ${deed} before ${wrong.id}`);
  };

  return {
    /** To open a station that no joint closes is only to get at it. */
    reach(station: string): void {
      mustReach(station, `open ${station}`);
    },

    breakJoint(id: string): void {
      const { station, opens, closed } = jointNamed(id);
      if (apart && loose.includes(id) && broken.has(id)) return;
      if (wasNever(id) && isSeen(id)) {
        everBroken.push(id);
        return;
      }
      if (broken.has(id)) throw new Error(`joint ${id} is broken already`);
      if (closed === undefined) mustReach(station, `break ${id}`);
      if (!opens) mustLeave(station, `break ${id}`, (other) => other.opens && !broken.has(other.id));
      broken.add(id);
      everBroken.push(id);
      for (const setting of layout.settings.values()) if (setting.station === station) lost.add(setting.id);
    },

    look(station: string): void {
      mustReach(station, `look into ${station}`);
      seen.add(station);
    },

    /** `null` takes out whatever is there. */
    takeOut(station: string, elements: readonly Piece[] | null): void {
      mustBeLoose(station, `take anything out of ${station}`);
      const there = bagAt(station);
      for (const [element, quantity] of bagOf(elements ?? asPieces(there))) {
        if ((there.get(element) ?? 0) < quantity) throw new Error(`there is no ${quantity} ${element} in ${station}`);
        put(there, element, -quantity);
        put(asideOf(station), element, quantity);
        loseWhatSprings(element);
      }
    },

    /** `same` puts back what came out of there (`null`: all of it); else the parts are new. */
    putIn(station: string, elements: readonly Piece[] | null, same: boolean): void {
      mustBeLoose(station, `put anything into ${station}`);
      if (elements === null && !same) throw new Error(`nobody knows which new part goes into ${station}`);
      const { accepts = [], most = 0 } = layout.stations.get(station) ?? {};
      const lying = asideOf(station);
      const parts = bagOf(elements ?? asPieces(lying));
      if (total(bagAt(station)) + total(parts) > most) throw new Error(`more than ${most} in ${station}`);
      for (const [element, quantity] of parts) {
        if (!accepts.includes(element)) throw new Error(`${station} does not take ${element}`);
        if (same && (lying.get(element) ?? 0) < quantity) throw new Error(`no ${element} came out of ${station}`);
        put(same ? lying : newParts, element, same ? -quantity : quantity);
        put(bagAt(station), element, quantity);
        loseWhatSprings(element);
      }
    },

    closeJoint(id: string): void {
      if (!broken.has(id)) throw new Error(`joint ${id} is not broken`);
      if (layout.mounting.has(id)) {
        if (!isMounted) throw new Error(`can't close ${id}: the control is not on the pump`);
        broken.delete(id);
        everClosed.push(id);
        return;
      }
      const { station, opens, closed } = jointNamed(id);
      if (closed === undefined) mustReach(station, `close ${id}`);
      if (isGone(id)) {
        if (!wasNever(id) || !isSeen(id)) throw new Error(`can't close ${id}: nothing in ${station} brings it`);
        everClosed.push(id);
        return;
      }
      if (opens && closed === undefined) {
        mustLeave(station, `close ${id}`, (other) => !other.opens && isLoose(other.id));
      }
      if (!opens) mustLeave(station, `close ${id} after its cover or`, (other) => other.opens && !broken.has(other.id));
      broken.delete(id);
      everClosed.push(id);
    },

    /** The control goes on its pump with every station closed. */
    mount(): void {
      if (isMounted) throw new Error('the control is on its pump already');
      const open = openJoint();
      if (open !== undefined) throw new Error(`can't mount: joint ${open} is open`);
      isMounted = true;
    },

    backOff(id: string): void {
      mustTurn(id, 'back off');
      lost.add(id);
      backedOff.add(id);
    },

    /** A setting is made from below, on a pump with everything closed but the locknuts under the hand. */
    set(id: string): void {
      mustRun(`set ${id}`);
      mustTurn(id, 'set');
      if (!backedOff.has(id)) throw new Error(`can't set ${id}: it was not backed off`);
      lost.delete(id);
    },

    /** Locking shifts a setting, so only what is read after it counts. */
    reRead(id: string): void {
      mustBeTight(id);
      if (!isTurned(id)) throw new Error(`can't read ${id} again: it was not set`);
      if (lost.has(id)) throw new Error(`can't read ${id}: it is not set`);
    },

    /** What nothing is turned for is read on a running pump, once what is turned at its station is set. */
    read(id: string): void {
      mustRun(`read ${id}`);
      mustBeTight(id);
      if (isTurned(id)) throw new Error(`can't read ${id} alone: it is set`);
      const { station } = found(layout.settings.get(id), `setting ${id}`);
      const open = [...backedOff].find((other) => layout.settings.get(other)?.station === station && lost.has(other));
      if (open !== undefined) throw new Error(`can't read ${id}: ${open} is backed off`);
      lost.delete(id);
    },

    /**
     * The work is over: every joint is closed, but what waits for a setting on the pump, and nothing lies about but
     * what is to go (`null`: whatever came out).
     */
    finish(goes: Readonly<Record<string, readonly Piece[] | null>>, waiting: readonly string[] = []): void {
      const open = [...broken].find((joint) => isLoose(joint) && !waiting.includes(joint));
      if (open !== undefined) throw new Error(`joint ${open} is still open`);
      for (const station of layout.stations.keys()) {
        const [lies, going] = [shown(asideOf(station)), goes[station]];
        if (going === null || lies === shown(going ?? [])) continue;
        throw new Error(`of ${station} there lies "${lies}" on the bench where "${shown(going ?? [])}" was to go`);
      }
    },

    /** Broken, and not because nothing is left there. */
    isBroken: isLoose,
    everBroken: (): readonly string[] => everBroken,
    everClosed: (): readonly string[] => everClosed,
    lostSettings: (): readonly string[] => [...lost],
    contentOf: (station: string): readonly Piece[] => asPieces(bagAt(station)),
    newParts: (): readonly Piece[] => asPieces(newParts),
  };
}

function found<Thing>(thing: Thing | undefined, name: string): Thing {
  if (thing === undefined) throw new Error(`there is no ${name} here`);
  return thing;
}

function asPieces(bag: Bag): Piece[] {
  return [...bag].map(([element, quantity]) => ({ element, quantity }));
}
