/** The state of a unit, folded from its events. Whoever asks, the fold is the same. */
import type { Content } from '../fit/fit.ts';
import { isSure, notKnown, sameHeld } from '../fit/fit.ts';
import type { BuiltFor } from '../fit/target-function.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Clear } from '../rules/finding.ts';
import { type StandingConcession, statusOf } from './concession.ts';
import { effectiveEvents } from './effective-events.ts';
import type { Birth, Effect, OpenFinding, UnitEvent } from './event.ts';
import { endOf, orderEvents } from './order-events.ts';

export type Status = 'released' | 'incomplete' | 'held';

/** A station's content and the record since which it is there: a later look that finds the same changes nothing of that. */
export type StationState = Content & { readonly record: string };

/** `handedOver`: the record by which a named party has taken the due over. `concession`: leave to use it nevertheless. */
export type StandingFinding = OpenFinding & {
  readonly fact: string;
  readonly handedOver?: string;
  readonly concession?: StandingConcession;
};

export type UnitState = {
  readonly unit: string;
  readonly seq: number;
  readonly born: Birth | null;
  readonly builtAt: string | null;
  readonly stations: Readonly<Record<string, StationState>>;
  readonly function: string | null;
  readonly builtFor: BuiltFor;
  /** The control on this pump, or the pump under this control; the record of putting it on, and when that was done. */
  readonly mounted: { readonly with: string; readonly record: string; readonly since: string } | null;
  /** Of the pair, each with the record that last read it; empty off the pump. */
  readonly settings: Readonly<Record<string, Quantity & { readonly record: string }>>;
  /** Values of the circuit that the pair works in, as last stated; left out where nothing is. */
  readonly circuit?: Readonly<Record<string, Quantity & { readonly record: string }>>;
  /** The record that last said where it is, and whether in or out. Whose it is, that record says to its owner. */
  readonly custody: { readonly record: string; readonly is: 'in' | 'out' } | null;
  readonly retired: { readonly record: string; readonly since: string } | null;
  /** As last stated, with the record that did. */
  readonly hours: (Quantity & { readonly record: string }) | null;
  /** Holds and dues that nothing has cleared, also those that a concession with limits or an end is for. */
  readonly open: readonly StandingFinding[];
  /** The unit that this one turned out to be. */
  readonly mergedInto: string | null;
  /** Of a folded state as if every concession that ends had ended: what it is at a time says `asAt`. */
  readonly status: Status;
};

/** Events of one unit, in any order, each once. What is not yet born has no state. */
export function fold(unit: string, events: readonly UnitEvent[]): UnitState {
  const ordered = orderEvents(effectiveEvents(events));
  const born = ordered.find((event) => event.effect.born !== undefined);
  const empty: UnitState = {
    unit,
    seq: Math.max(0, ...events.map((event) => event.seq)),
    // What a unit is doesn't depend on when it was seen.
    born: born?.effect.born ?? null,
    builtAt: born?.effect.builtAt ?? null,
    stations: {},
    function: null,
    builtFor: {},
    mounted: null,
    settings: {},
    custody: null,
    retired: null,
    hours: null,
    open: [],
    mergedInto: null,
    status: 'released',
  };
  const { circuit, ...state } = ordered.reduce((before, event) => apply(before, event), empty);
  const covered = new Set(ordered.flatMap(({ effect }) => effect.covers ?? []));
  const open = state.open.filter((one) => !(covered.has(one.fact) && isOfCustody(one)));
  return { ...state, ...(circuit && Object.keys(circuit).length > 0 && { circuit }), open, status: statusOf(open) };
}

/** The events that count at (performed, known), as they count then; null: no bound. */
export function eventsAt(events: readonly UnitEvent[], performed: string | null, known: string | null): UnitEvent[] {
  const heard = effectiveEvents(events.filter((event) => known === null || event.recordedAt <= known));
  return heard.filter((event) => performed === null || endOf(event) <= performed);
}

/** A hold that only says that the unit was not known to be where it was worked on. */
export function isOfCustody({ clearedBy }: OpenFinding): boolean {
  return clearedBy.some((one) => one.kind === 'custody');
}

/** What each listed station is later found to hold although nothing recorded changed it. */
export type Contradiction = { readonly station: string; readonly before: string; readonly found: Content };

/**
 * For a state as at `performed`: stations that a later record found otherwise, with nothing recorded in between.
 * Between the two the truth is "recorded so, changed unrecorded before then".
 */
export function contradictions(state: UnitState, events: readonly UnitEvent[], performed: string): Contradiction[] {
  const later = orderEvents(effectiveEvents(events)).filter((event) => endOf(event) > performed);
  return Object.entries(state.stations).flatMap(([station, content]) => {
    const next = later.find(({ effect }) => foundAt(effect, station) ?? effect.changed?.[station]);
    const found = next && foundAt(next.effect, station);
    if (next === undefined || found === undefined || agrees(content, found)) return [];
    return [{ station, before: next.performedFrom, found }];
  });
}

/** What was only assumed was not found. */
function foundAt({ found }: Effect, station: string): Content | undefined {
  const content = found?.[station];
  return content?.basis === 'assumed' ? undefined : content;
}

/** What is not known contradicts nothing. */
export function agrees(a: Content, b: Content): boolean {
  return a.elements === null || b.elements === null || sameHeld(a.elements, b.elements);
}

export function contentOf(state: Pick<UnitState, 'stations'>, station: string): Content {
  const { elements, basis } = state.stations[station] ?? notKnown;
  return { elements, basis };
}

function apply(before: UnitState, { fact, effect, performedTo }: UnitEvent): UnitState {
  return {
    ...before,
    stations: { ...before.stations, ...foundAfter(before, effect, fact), ...changedAfter(effect, fact) },
    function: effect.function === undefined ? before.function : effect.function,
    builtFor: effect.builtFor ?? before.builtFor,
    mounted: mountedAfter(before, effect, fact, performedTo),
    settings: settingsAfter(before, effect, fact),
    circuit: circuitAfter(before, effect, fact),
    mergedInto: effect.mergedInto ?? before.mergedInto,
    custody: effect.custody === undefined ? before.custody : { record: fact, is: effect.custody },
    retired: before.retired ?? (effect.retired === true ? { record: fact, since: performedTo } : null),
    hours: effect.hours === undefined ? before.hours : { ...effect.hours, record: fact },
    open: [
      ...conceded(handedOver(before.open, effect, fact), effect, fact).filter(
        (one) => !isCleared(one, effect.clears ?? []),
      ),
      ...(effect.opens ?? []).map((one) => ({ ...one, fact })),
    ],
  };
}

/** What was assumed while nothing was known stands back behind what a late record knows. */
function foundAfter(before: UnitState, { found }: Effect, fact: string): UnitState['stations'] {
  return Object.fromEntries(
    Object.entries(found ?? {})
      .filter(([station, content]) => content.basis !== 'assumed' || !isSure(contentOf(before, station)))
      .map(([station, content]) => {
        const known = before.stations[station];
        return [station, { ...content, record: known !== undefined && isSame(known, content) ? known.record : fact }];
      }),
  );
}

/** A piece put in is a new one, even where it is of the same kind. */
function changedAfter({ changed }: Effect, fact: string): UnitState['stations'] {
  return Object.fromEntries(
    Object.entries(changed ?? {}).map(([station, content]) => [station, { ...content, record: fact }]),
  );
}

function isSame(a: Content, b: Content): boolean {
  return a.elements !== null && b.elements !== null && sameHeld(a.elements, b.elements);
}

function mountedAfter(before: UnitState, { mounted }: Effect, fact: string, at: string): UnitState['mounted'] {
  if (mounted === undefined) return before.mounted;
  if (mounted.on) return { with: mounted.with, record: fact, since: at };
  return before.mounted?.with === mounted.with ? null : before.mounted;
}

/** Settings belong to the pair: a mounting or a taking off leaves none. */
function settingsAfter(before: UnitState, effect: Effect, fact: string): UnitState['settings'] {
  const kept = effect.mounted === undefined ? before.settings : {};
  const after: Record<string, Quantity & { record: string }> = { ...kept };
  for (const [setting, value] of Object.entries(effect.settings ?? {})) {
    if (value === null) delete after[setting];
    else after[setting] = { ...value, record: fact };
  }
  return after;
}

/** The circuit is that of the pair too. */
function circuitAfter({ circuit }: UnitState, effect: Effect, fact: string): NonNullable<UnitState['circuit']> {
  const stated = Object.entries(effect.circuit ?? {}).map(([name, value]) => [name, { ...value, record: fact }]);
  return { ...(effect.mounted === undefined && circuit), ...Object.fromEntries(stated) };
}

function handedOver(open: UnitState['open'], { handsOver = [] }: Effect, fact: string): UnitState['open'] {
  return open.map((one) => {
    const isHandedOver = handsOver.some((due) => due.fact === one.fact && isCleared(one, [due.clear]));
    return isHandedOver && one.severity === 'due' ? { ...one, handedOver: fact } : one;
  });
}

/** The last decision counts: it takes the place of a concession that was given before. */
function conceded(open: UnitState['open'], { concedes }: Effect, fact: string): UnitState['open'] {
  if (concedes === undefined) return open;
  return open.map((one) => {
    if (!isCleared(one, [concedes.clear])) return one;
    const { concession: _, ...finding } = one;
    return concedes.concession === null
      ? finding
      : { ...finding, concession: { ...concedes.concession, record: fact } };
  });
}

function isCleared(finding: OpenFinding, clears: readonly Clear[]): boolean {
  return finding.clearedBy.some((one) => clears.some((clear) => clear.kind === one.kind && clear.place === one.place));
}
