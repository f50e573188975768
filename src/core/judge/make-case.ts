/** From what was loaded to a case: what was there, what is there now, and what the work demands. */

import type { Demand, Edition } from '../catalogue/edition.ts';
import { bodyOf, functionOf, patternFor, sizeOf } from '../catalogue/lookup.ts';
import { allowedLike } from '../fit/choose-contents.ts';
import { type Demanded, demandOf } from '../fit/demand.ts';
import { type Content, type Fit, type Held, notKnown, piecesOf, together, without } from '../fit/fit.ts';
import { bare, contentsOf, type Layout, layoutOf } from '../fit/layout.ts';
import { type BuiltFor, type PumpAtHand, targetFunction } from '../fit/target-function.ts';
import { knownSettings } from '../history/at-hand.ts';
import { contentOf } from '../history/fold.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { isUnknown } from '../records/parts.ts';
import type { Case, JudgedKind, JudgedRecord, UnitAtHand } from './case.ts';

export type CaseInput = Omit<
  Case,
  | 'pumpAtHand'
  | 'builtFor'
  | 'layout'
  | 'before'
  | 'foundPattern'
  | 'found'
  | 'after'
  | 'functionBefore'
  | 'functionFound'
  | 'target'
  | 'pattern'
  | 'demanded'
> & { readonly builtFor: BuiltFor | undefined };

/** A case, or what of the units themselves the edition doesn't know. */
export function makeCase(input: CaseInput): Case | { readonly unknown: string } {
  const { edition, control, pump, record } = input;
  const body = control.state.born?.kind === 'control' ? bodyOf(edition, control.state.born.body) : bare;
  if (body === null) return { unknown: `edition ${edition.edition} doesn't know the body of control ${control.name}` };
  const bodyId = body.id;
  const pumpAtHand = pump === null ? null : pumpOf(pump);
  const size = pumpAtHand === null ? null : sizeOf(edition, pumpAtHand.series, pumpAtHand.size);
  if (pumpAtHand !== null && size === null) {
    return {
      unknown: `edition ${edition.edition} doesn't know size ${pumpAtHand.size} of series ${pumpAtHand.series}`,
    };
  }
  const layout = layoutOf(body, size);
  const builtFor = input.builtFor ?? control.state.builtFor;
  const before = recordedFit(layout, control, pump);
  const stated = functionOf(edition, bodyId, record.found?.function ?? '');
  const foundPattern =
    stated === null ? {} : (patternFor(stated, circumstancesOf(pumpAtHand, builtFor))?.stations ?? {});
  const found = foundFit(before, record, foundPattern);
  const after = fitAfter(layout, found, record);
  const functionFound = record.found?.function ?? control.state.function;
  const declared = declaredFunction(input.kind, record, functionFound);
  const offering = input.kind === 'conversion' || declared === null ? edition : withRetired(edition, bodyId, declared);
  const target = declared === null ? null : targetFunction(offering, bodyId, declared, pumpAtHand, builtFor);
  const partial = { ...input, builtFor, pumpAtHand, layout, before, foundPattern, found, after, functionFound, target };
  return {
    ...partial,
    functionBefore: control.state.function,
    pattern: target === null || 'refused' in target ? {} : atHand(target.pattern.stations, layout),
    demanded: demandedBy(partial),
  };
}

/** A control has the size and rotation of the pump that it is on; a voltage it has for itself. */
function circumstancesOf(pump: PumpAtHand | null, builtFor: BuiltFor): BuiltFor {
  return pump === null ? builtFor : { ...builtFor, size: pump.size, rotation: pump.rotation };
}

/** Nothing is converted to a function that is retired; what has it already is judged as before. */
function withRetired(edition: Edition, bodyId: string, functionId: string): Edition {
  if (functionOf(edition, bodyId, functionId)?.retired !== true) return edition;
  const functions = edition.functions.map((one) =>
    one.body === bodyId && one.id === functionId ? { ...one, retired: false } : one,
  );
  return { ...edition, functions };
}

/** Stations whose content the record says was taken out or put in. */
export function touchedBy(record: Pick<JudgedRecord, 'removed' | 'fitted'>): string[] {
  return [...new Set([...record.removed, ...record.fitted].map((one) => one.station))];
}

/** Readings of settings that the pair is known to have. */
/** Settings read as found, in the dimension that the setting has. */
function foundSettings(layout: Layout, record: JudgedRecord): Record<string, Quantity> {
  const quantities = new Map(layout.settings.map((setting) => [setting.id, setting.quantity]));
  return Object.fromEntries(
    Object.entries(record.found?.settings ?? {}).filter(([id, { unit }]) => quantities.get(id) === dimensionOf(unit)),
  );
}

/** The function that the work leaves, as far as its kind declares one. */
function declaredFunction(kind: JudgedKind, record: JudgedRecord, functionFound: string | null): string | null {
  return kind === 'conversion' ? (record.to?.function ?? null) : functionFound;
}

function demandedBy(input: Omit<Case, 'functionBefore' | 'pattern' | 'demanded'>): Demanded {
  const { kind, record, edition, layout, after, control, target, functionFound } = input;
  const takenOff = record.mounting?.on === false;
  const isStated = takenOff || kind === 'registration';
  const fun = target === null || 'refused' in target || isStated ? null : target.function;
  const puts = kind === 'mounting' && !takenOff;
  return demandOf({
    edition,
    layout,
    // Neither taking off nor stating what is there asks for checks.
    kind: isStated ? 'adjustment' : kind,
    onPump: input.pumpAtHand !== null,
    function: fun,
    functionChanges:
      puts || (kind === 'conversion' && record.to !== undefined && functionFound !== (record.to?.function ?? null)),
    known: puts ? {} : { ...knownSettings(control.state), ...foundSettings(layout, record) },
    // A test reads settings on a control that stays closed.
    set: kind === 'test' ? [] : record.settings.map((one) => one.setting),
    before: contentsOf(layout, input.found),
    contents: contentsOf(layout, after),
    toOpen: touchedBy(record).filter((id) => layout.station.has(id)),
    toReach: [],
    opened: record.opened?.filter((id) => layout.station.has(id)),
  });
}

function pumpOf({ state }: UnitAtHand): PumpAtHand | null {
  const { born } = state;
  return born?.kind === 'pump'
    ? { series: born.series, size: born.size, rotation: born.rotation, fluid: born.fluid }
    : null;
}

/** Closures hold nothing that a record could speak of. */
function recordedFit(layout: Layout, control: UnitAtHand, pump: UnitAtHand | null): Fit {
  const stations = { ...control.state.stations, ...pump?.state.stations };
  return Object.fromEntries(
    layout.stations.filter((station) => station.accepts.length > 0).map(({ id }) => [id, contentOf({ stations }, id)]),
  );
}

/** Stated station by station; else as recorded; else, where a function was found, as that function has it. */
function foundFit(before: Fit, record: JudgedRecord, pattern: Readonly<Record<string, Demand>>): Fit {
  return Object.fromEntries(
    Object.entries(before).map(([id, recorded]): [string, Content] => {
      const stated = record.found?.stations?.[id];
      if (stated !== undefined && !isUnknown(stated)) return [id, { elements: together(stated), basis: 'seen' }];
      const demand = pattern[id] ?? 'keep';
      if (recorded.elements !== null || demand === 'keep') return [id, recorded];
      // Where the function leaves a choice: the one that was taken out, else the first.
      const out = named(record.removed.filter((one) => one.station === id));
      return [id, { elements: allowedLike(demand, out), basis: 'assumed' }];
    }),
  );
}

function named(list: readonly { readonly element: unknown; readonly quantity: number }[]): Held[] {
  return list.flatMap(({ element, quantity }) => (typeof element === 'string' ? [{ element, quantity }] : []));
}

function fitAfter(layout: Layout, found: Fit, record: JudgedRecord): Fit {
  const touched = touchedBy(record);
  return Object.fromEntries(
    layout.stations.flatMap(({ id, most }) => {
      const content = found[id];
      if (content === undefined) return [];
      return [[id, touched.includes(id) ? contentAfter(id, most, content.elements, record) : content]];
    }),
  );
}

function contentAfter(station: string, most: number, found: readonly Held[] | null, record: JudgedRecord): Content {
  const out = record.removed.filter((one) => one.station === station);
  const put = record.fitted.filter((one) => one.station === station);
  if (put.some((one) => isUnknown(one.element))) return notKnown;
  const nameless = out.some((one) => isUnknown(one.element));
  if (found === null && out.length === 0 && most > 1) return notKnown;
  if (found !== null && nameless && piecesOf(out) < piecesOf(found)) return notKnown;
  // What came out, or what was there, is not known by name: the station was emptied of it.
  const left = found === null || nameless ? [] : without(found, named(out));
  return { elements: together(left, named(put)), basis: 'seen' };
}

/** The pump's own stations are decided once the control is on a pump. */
function atHand(pattern: Readonly<Record<string, Demand>>, layout: Layout): Record<string, Demand> {
  return Object.fromEntries(Object.entries(pattern).filter(([station]) => layout.station.has(station)));
}
