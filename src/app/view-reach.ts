/** How units that were reached stand: what they still hold, what was done to them since, who has them. */
import { effectiveEvents } from '../core/history/effective-events.ts';
import type { UnitState } from '../core/history/fold.ts';
import { orderEvents } from '../core/history/order-events.ts';
import { isForOwnerAlone } from '../core/history/owner-alone.ts';
import { elementAlone, type ReachCriteria, seeksParts } from '../core/reach/criteria.ts';
import { heldBy, type Still, standsOf, stillIn, stillOfParts } from '../core/reach/still.ts';
import type { Reached } from '../store/sql/find-reach.ts';
import { firstNames } from '../store/sql/find-units.ts';
import { namesOfOwners } from '../store/sql/names-of-organisations.ts';
import { readCurrent } from '../store/sql/read-current.ts';
import { type MovementRow, readMovements, visibleAmong, visibleFacts } from '../store/sql/read-facts.ts';
import { readWorkSince, type Work } from '../store/sql/read-work.ts';
import { byIds } from '../store/sql/which-units.ts';
import type { Tx } from '../store/transaction.ts';
import type { Asker } from './asker.ts';
import type { ReachItem, ReachRecord, ReachUse } from './find-reach.ts';
import { isAnalyst } from './read-unit.ts';
import { placeOf } from './recording/loaded.ts';
import { statesKnown } from './states-known.ts';

export type UnitMatched = { readonly unit: string; readonly matched: readonly Reached[] };

/** In the order given; as it was known then, or null: as it is now. It is the last that the transaction is asked for. */
export async function viewReach(
  tx: Tx,
  asker: Asker,
  criteria: ReachCriteria,
  reached: readonly UnitMatched[],
  known: string | null = null,
): Promise<ReachItem[]> {
  if (reached.length === 0) return [];
  const units = reached.map((one) => one.unit);
  const then = known === null ? null : await statesKnown(tx, units, known);
  const [work, current, names, shown] = await Promise.all([
    // Of all work: nobody's evidence is in it, and what counts must not depend on who asks.
    readWorkSince(
      tx.as('recorder'),
      units,
      reached.flatMap(({ matched }) => matched.map(({ fact }) => fact)),
    ),
    then ?? readCurrent(tx, units),
    then === null
      ? firstNames(tx, byIds(units), 'around')
      : firstNames(tx, byIds([...units, ...partnersOf(then)]), 'them'),
    // What the maker's people are shown is noted, all of it.
    isAnalyst(asker) ? visibleFacts(tx, units, known) : null,
  ]);
  const done = Map.groupBy(
    work.filter(({ recordedAt }) => known === null || recordedAt <= known),
    ({ unit }) => unit,
  );
  const since = new Map(reached.map(({ unit, matched }) => [unit, doneSince(done.get(unit) ?? [], matched)]));
  const forOwners = [...since.values()].flat().filter((one) => one.isForOwner);
  const custodies = current.flatMap(({ custody }) => (custody?.is === 'in' ? [custody.record] : []));
  const [rows, slugs, seen] = await tx.last(() =>
    Promise.all([
      readMovements(tx, custodies),
      namesOfOwners(tx, custodies),
      shown ??
        visibleAmong(
          tx,
          forOwners.map(({ fact }) => fact),
        ),
    ]),
  );
  const movements = new Map(rows.map((row) => [row.id, row]));
  const states = new Map(current.map((state) => [state.unit, state]));
  return reached.map(({ unit, matched }) => {
    const state = states.get(unit);
    const records = recordsOf(matched, state, criteria);
    return {
      ...{ unit, kind: state?.born?.kind ?? null, name: names.get(unit) ?? null },
      still: stillOf(records, state, criteria),
      records,
      doneSince: (since.get(unit) ?? [])
        .filter(({ fact, isForOwner }) => !isForOwner || seen.has(fact))
        .map(({ kind, performed }) => ({ kind, performed })),
      status: state?.status ?? null,
      mounted: mountedOf(state, names),
      holder: holderOf(state, movements, slugs),
      mergedInto: state?.mergedInto ?? null,
    };
  });
}

function partnersOf(states: readonly UnitState[]): string[] {
  return states.flatMap((state) => state.mounted?.with ?? []);
}

/** In the order of work. */
function recordsOf(
  matched: readonly Reached[],
  state: UnitState | undefined,
  criteria: ReachCriteria,
): readonly ReachRecord[] {
  return [...Map.groupBy(matched, (row) => row.fact)]
    .map(([id, rows]) => {
      const [{ kind, performedFrom: from, performedTo: to }] = rows as [Reached, ...Reached[]];
      return {
        id,
        kind,
        performed: { from, to },
        uses: [...usesIn(rows, state, criteria), ...foundIn(rows, state, criteria)],
      };
    })
    .toSorted((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));
}

function keyOf({ id, performed }: Pick<ReachRecord, 'id' | 'performed'>): string {
  return `${performed.to} ${id}`;
}

function usesIn(rows: readonly Reached[], state: UnitState | undefined, { lot }: ReachCriteria): ReachUse[] {
  return rows.flatMap(({ fact, role, place, item, quantity, lot: from }) => {
    if (role === null || place === null || item === null || quantity === null) return [];
    const still = stillIn({ fact, role, place, item }, state?.stations);
    return [
      { place, role, item, quantity, lot: from, through: lot === undefined || from === lot ? null : from, still },
    ];
  });
}

/** What a station holds by a record that put nothing of the kind in, but found it there. */
function foundIn(rows: readonly Reached[], state: UnitState | undefined, criteria: ReachCriteria): ReachUse[] {
  const [row] = rows;
  const element = elementAlone(criteria);
  if (row === undefined || state === undefined || row.line !== null || element === null) return [];
  return heldBy(row.fact, element, state).map(({ place, quantity }) => ({
    ...{ place, role: 'element', item: element, quantity },
    ...{ lot: null, through: null, still: 'in' },
  }));
}

function stillOf(records: readonly ReachRecord[], state: UnitState | undefined, criteria: ReachCriteria): Still {
  if (seeksParts(criteria)) return stillOfParts(records.flatMap(({ uses }) => uses.map((use) => use.still)));
  if (state === undefined) return 'unknown';
  return records.some(({ id }) => standsOf(id, state)) ? 'now' : 'once';
}

type Done = ReachItem['doneSince'][number] & { readonly fact: string; readonly isForOwner: boolean };

/** After the last of these records, in the order of work. */
function doneSince(work: readonly Work[], matched: readonly Reached[]): Done[] {
  const records = new Set(matched.map(({ fact }) => fact));
  const events = work.map((one) => ({ ...one, prev: null }));
  const ordered = orderEvents(effectiveEvents(events));
  const last = ordered.findLastIndex((event) => records.has(event.fact));
  return ordered.slice(last + 1).map((event) => {
    const { fact, kind, performedFrom: from, performedTo: to } = event;
    return { fact, kind, performed: { from, to }, isForOwner: isForOwnerAlone(event, events) };
  });
}

function mountedOf(state: UnitState | undefined, names: ReadonlyMap<string, string>): ReachItem['mounted'] {
  const under = state?.mounted ?? null;
  return under === null ? null : { unit: under.with, name: names.get(under.with) ?? null };
}

/** The same null for a unit of which nobody has said where it is and for one that somebody else holds, or that went out. */
function holderOf(
  state: UnitState | undefined,
  movements: ReadonlyMap<string, MovementRow>,
  slugs: ReadonlyMap<string, string>,
): ReachItem['holder'] {
  const custody = state?.custody ?? null;
  const movement = custody === null ? undefined : movements.get(custody.record);
  const [place] = movement === undefined ? [] : placeOf(movement.owner, JSON.parse(movement.statement));
  const distributor = movement === undefined ? undefined : slugs.get(movement.owner);
  if (custody?.is !== 'in' || movement === undefined || place === undefined || distributor === undefined) return null;
  return { distributor, shop: place.shop, since: movement.performedTo };
}
