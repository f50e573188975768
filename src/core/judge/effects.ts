/**
 * What a judged record does to the control and its pump. Findings and contents of `pump/…` places belong to the
 * pump, everything else to the control; settings belong to the pair and are kept with the control.
 */
import { onPump } from '../catalogue/lookup.ts';
import { satisfies } from '../fit/choose-contents.ts';
import type { Content } from '../fit/fit.ts';
import { contentAt } from '../fit/layout.ts';
import type { BuiltFor } from '../fit/target-function.ts';
import type { Effect, OpenFinding, UnitEffect } from '../history/event.ts';
import { canonical } from '../log/canonical.ts';
import { type Clear, type Finding, stockClears } from '../rules/finding.ts';
import type { Case } from './case.ts';
import { clearsOf, foundStations } from './clears.ts';
import { staysOnPump } from './evidence.ts';
import { touchedBy } from './make-case.ts';
import { settingsAfter } from './settings-after.ts';

type Contents = Record<string, Content>;

export function effectsOf(judged: Case, findings: readonly Finding[]): UnitEffect[] {
  const { control, pump, record } = judged;
  const clears = clearsOf(judged);
  const found = foundStations(judged);
  const changed = pick(judged.after, touchedBy(record));
  const part = (holder: 'control' | 'pump'): Effect => ({
    ...some('found', onSide(found, holder)),
    ...some('changed', onSide(changed, holder)),
    ...hoursOf(holder === 'control' ? control : pump),
    ...list('opens', openFindings(findings, holder)),
    ...list(
      'clears',
      clears.filter((clear) => holder === 'control' || isOnPump(clear.place)),
    ),
  });
  const effects: UnitEffect[] = [
    {
      unit: control.unit,
      effect: {
        ...part('control'),
        ...some('settings', settingsAfter(judged)),
        ...some('circuit', staysOnPump(judged) ? record.circuit : {}),
        ...functionAfter(judged),
        ...builtForAfter(judged),
        ...(record.mounting !== null && pump !== null && { mounted: { with: pump.unit, on: record.mounting.on } }),
      },
    },
  ];
  if (pump === null) return effects;
  const onItsPump: Effect = {
    ...part('pump'),
    ...(record.mounting !== null && { mounted: { with: control.unit, on: record.mounting.on } }),
  };
  return Object.keys(onItsPump).length === 0 ? effects : [...effects, { unit: pump.unit, effect: onItsPump }];
}

/** A conversion declares its function; an inspection or a repair confirms the one found, or leaves none. */
function functionAfter(judged: Case): Pick<Effect, 'function'> {
  const { kind, record, functionFound, functionBefore, layout, pattern, after } = judged;
  if (kind === 'conversion') return { function: record.to?.function ?? null };
  if (kind !== 'inspection' && kind !== 'repair') return {};
  const agrees = Object.entries(pattern).every(([station, demand]) => {
    const content = contentAt(layout, after, station);
    return content.elements === null || satisfies(content, demand);
  });
  const found = agrees ? functionFound : null;
  return found === functionBefore ? {} : { function: found };
}

/**
 * A control on the shelf is built for what the record says; one converted on a pump for what the function's pattern
 * asks there. What that doesn't ask it is not bound to any more.
 */
function builtForAfter(judged: Case): Pick<Effect, 'builtFor'> {
  if (judged.kind !== 'conversion') return {};
  const after = judged.pump === null ? judged.builtFor : askedByPattern(judged.target);
  return after === null || canonical(after) === canonical(judged.control.state.builtFor) ? {} : { builtFor: after };
}

/** Null where the work leaves no function. */
function askedByPattern(target: Case['target']): BuiltFor | null {
  if (target === null || 'refused' in target) return null;
  const { rotation, size, voltage } = target.pattern.when;
  return { ...(rotation && { rotation }), ...(size && { size }), ...(voltage && { voltage }) };
}

/** What the control or the pump can clear is left open on the control: it is told of what is cleared on both. */
function openFindings(findings: readonly Finding[], holder: 'control' | 'pump'): OpenFinding[] {
  return findings.flatMap(({ rule, severity, pointer, clearedBy }) => {
    if (severity !== 'hold' && severity !== 'due') return [];
    const onUnit = clearedBy.filter(({ kind }) => !stockClears.includes(kind));
    const places = onUnit.filter(({ kind }) => kind !== 'disposition' && kind !== 'correction');
    const isPumps =
      places.length > 0 &&
      places.every((clear) => isOnPump(clear.place) || isPumpItself(clear) || isPumpContained(clear, pointer));
    const side = isPumps ? 'pump' : 'control';
    return side === holder ? [{ rule, severity, pointer, clearedBy: onUnit }] : [];
  });
}

function isPumpItself({ kind, place }: Clear): boolean {
  return kind === 'custody' && place === 'pump';
}

/** Progress of a containment is made unit by unit. */
function isPumpContained({ kind }: Clear, pointer: string): boolean {
  return kind === 'containment' && pointer === '/pump';
}

function hoursOf(unit: Case['pump']): Pick<Effect, 'hours'> {
  return unit === null || unit.hours === null ? {} : { hours: unit.hours };
}

function isOnPump(place: string): boolean {
  return place.startsWith(onPump);
}

function onSide(contents: Contents, holder: 'control' | 'pump'): Contents {
  return pick(
    contents,
    Object.keys(contents).filter((id) => isOnPump(id) === (holder === 'pump')),
  );
}

function pick(contents: Readonly<Contents>, ids: readonly string[]): Contents {
  return Object.fromEntries(ids.flatMap((id) => (contents[id] === undefined ? [] : [[id, contents[id]]])));
}

function some<K extends string, V extends object>(key: K, value: V): { [key in K]?: V } {
  return Object.keys(value).length === 0 ? {} : ({ [key]: value } as { [key in K]?: V });
}

function list<K extends string, V>(key: K, value: readonly V[]): { [key in K]?: readonly V[] } {
  return value.length === 0 ? {} : ({ [key]: value } as { [key in K]?: readonly V[] });
}
