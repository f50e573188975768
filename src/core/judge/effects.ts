/**
 * What a judged record does to the control and its pump. Findings and contents of `pump/…` places belong to the
 * pump, everything else to the control; settings belong to the pair and are kept with the control.
 */
import { onPump } from '../catalogue/lookup.ts';
import { satisfies } from '../fit/choose-contents.ts';
import { type Content, notKnown } from '../fit/fit.ts';
import type { Effect, OpenFinding, UnitEffect } from '../history/event.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { isUnknown } from '../records/parts.ts';
import type { Clear, Finding } from '../rules/finding.ts';
import type { Case } from './case.ts';
import { isClosed, isSealed, isSet, lastCheck, lastSetting } from './evidence.ts';
import { touchedBy } from './make-case.ts';

type Contents = Record<string, Content>;

export function effectsOf(judged: Case, findings: readonly Finding[]): UnitEffect[] {
  const { control, pump, record } = judged;
  const clears = clearsOf(judged);
  const found = foundStations(judged);
  const changed = pick(judged.after, touchedBy(record));
  const part = (holder: 'control' | 'pump'): Effect => ({
    ...some('found', onSide(found, holder)),
    ...some('changed', onSide(changed, holder)),
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
        ...functionAfter(judged),
        ...(judged.kind === 'conversion' &&
          pump === null &&
          Object.keys(judged.builtFor).length > 0 && { builtFor: judged.builtFor }),
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

/** Evidence that may clear earlier findings on the same unit. */
export function clearsOf(judged: Case): Clear[] {
  const { record, layout, after } = judged;
  const joints = [...layout.joints, ...layout.mountingJoints].map((joint) => joint.id);
  const checks = [...new Set(record.checks.map((one) => one.check))];
  const stated = Object.keys(foundStations(judged)).filter((id) => judged.found[id]?.basis === 'seen');
  const known = [...stated, ...touchedBy(record)].filter((id) => (after[id] ?? notKnown).elements !== null);
  return [
    ...joints.filter((id) => isClosed(judged, id)).map((place) => ({ kind: 'torque' as const, place })),
    ...joints
      .filter((id) => record.seals.some((one) => one.joint === id) && isSealed(judged, id))
      .map((place) => ({ kind: 'seal' as const, place })),
    ...layout.settings.filter(({ id }) => isSet(judged, id)).map(({ id }) => ({ kind: 'setting' as const, place: id })),
    ...checks
      .filter((id) => lastCheck(judged, id)?.result === 'passed')
      .map((place) => ({ kind: 'check' as const, place })),
    ...[...new Set(known)].map((place) => ({ kind: 'content' as const, place })),
    ...(leavesFunction(judged) ? [{ kind: 'function' as const, place: 'control' }] : []),
  ];
}

/** Whether the record states work or a look that leaves a function, with every decided station as it demands. */
function leavesFunction({ kind, target, pattern, after }: Case): boolean {
  if (kind !== 'conversion' && kind !== 'inspection') return false;
  if (target === null || 'refused' in target) return false;
  return Object.entries(pattern).every(([station, demand]) => satisfies(after[station] ?? notKnown, demand));
}

/** Stated one by one, or filled in from the function found where the records knew nothing. */
function foundStations({ record, before, found }: Case): Contents {
  return Object.fromEntries(
    Object.entries(found).filter(([id, content]) => {
      const stated = record.found?.stations?.[id];
      if (stated !== undefined) return !isUnknown(stated);
      return (before[id] ?? notKnown).elements === null && content.elements !== null;
    }),
  );
}

/** Readings as they were taken; what was disturbed and not read again is no longer known, whatever was found before. */
function settingsAfter(judged: Case): Record<string, Quantity | null> {
  const { record, layout, demanded, pump } = judged;
  if (pump === null || record.mounting?.on === false) return {};
  const opened = new Set(demanded.ways.opened);
  const disturbed = layout.settings.filter((one) => opened.has(one.station)).map((one) => one.id);
  const read = [...new Set(record.settings.map((one) => one.setting))];
  return {
    ...record.found?.settings,
    ...Object.fromEntries(disturbed.map((id) => [id, null])),
    ...Object.fromEntries(read.map((id) => [id, lastSetting(judged, id)?.reading ?? null])),
  };
}

/** A conversion declares its function; an inspection confirms the one found, or finds that it is none. */
function functionAfter(judged: Case): Pick<Effect, 'function'> {
  const { kind, record, functionFound, functionBefore, pattern, after } = judged;
  if (kind === 'conversion') return { function: record.to?.function ?? null };
  if (kind !== 'inspection') return {};
  const agrees = Object.entries(pattern).every(([station, demand]) => {
    const content = after[station] ?? notKnown;
    return content.elements === null || satisfies(content, demand);
  });
  const found = agrees ? functionFound : null;
  return found === functionBefore ? {} : { function: found };
}

function openFindings(findings: readonly Finding[], holder: 'control' | 'pump'): OpenFinding[] {
  return findings.flatMap(({ rule, severity, pointer, clearedBy }) => {
    if (severity !== 'hold' && severity !== 'due') return [];
    const side = clearedBy.some((clear) => isOnPump(clear.place)) ? 'pump' : 'control';
    return side === holder ? [{ rule, severity, pointer, clearedBy }] : [];
  });
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
