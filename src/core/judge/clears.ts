/** What a record proves, and so clears of what earlier records left open on the same units. */

import type { Joint } from '../catalogue/edition.ts';
import { isLocknut } from '../fit/broken-joints.ts';
import { satisfies } from '../fit/choose-contents.ts';
import { type Content, isSure, sameHeld } from '../fit/fit.ts';
import { contentAt, isJointThere, jointsAt } from '../fit/layout.ts';
import { isUnknown } from '../records/parts.ts';
import type { Clear, ClearKind } from '../rules/finding.ts';
import type { Case } from './case.ts';
import { isClosed, isSealed, isSet, lastCheck, staysOnPump } from './evidence.ts';
import { touchedBy } from './make-case.ts';
import { circuitSettled, relationsAtHand } from './relations-at-hand.ts';

export function clearsOf(judged: Case): Clear[] {
  return [
    ...at('torque', [...closedJoints(judged), ...jointsOfNothing(judged)]),
    ...at('seal', [...sealedJoints(judged), ...jointsOfNothing(judged)]),
    ...at('setting', settingsSettled(judged)),
    ...at(
      'check',
      checksMade(judged, (one) => one.result === 'passed'),
    ),
    ...at(
      'not-applicable',
      checksMade(judged, (one) => one.result === 'not-applicable' && one.reason !== undefined),
    ),
    ...at(
      'measurement',
      judged.record.measurements.filter((one) => !isUnknown(one.instrument)).map((one) => one.measured),
    ),
    ...at('circuit', circuitSettled(relationsAtHand(judged), judged.record.circuit)),
    ...at('content', knownStations(judged)),
    ...at('part', renewedStations(judged)),
    ...at('function', leavesFunction(judged) ? ['control'] : []),
  ];
}

/** Stated one by one, or filled in from the function found where the records knew nothing. */
export function foundStations({ record, layout, before, found }: Case): Record<string, Content> {
  return Object.fromEntries(
    Object.entries(found).filter(([id, content]) => {
      const stated = record.found?.stations?.[id];
      if (stated !== undefined) return !isUnknown(stated);
      return contentAt(layout, before, id).elements === null && content.elements !== null;
    }),
  );
}

function at(kind: ClearKind, places: readonly string[]): Clear[] {
  return [...new Set(places)].map((place) => ({ kind, place }));
}

/** Off the pump nothing is mounted, and a locknut stays open until its setting is set. */
function closedJoints(judged: Case): string[] {
  const { layout } = judged;
  const joints = staysOnPump(judged)
    ? [...layout.joints, ...layout.mountingJoints]
    : layout.joints.filter((joint) => !waitsForSetting(judged, joint));
  return joints.map((joint) => joint.id).filter((id) => isClosed(judged, id));
}

function waitsForSetting(judged: Case, joint: Joint): boolean {
  if (!isLocknut(joint)) return false;
  return judged.layout.settings.some(
    ({ id, station, adjusted }) => station === joint.station && adjusted !== false && hasSetting(judged, id) === true,
  );
}

function sealedJoints(judged: Case): string[] {
  return judged.record.seals.map((one) => one.joint).filter((id) => isSealed(judged, id));
}

/** Joints that what is known to sit at their station doesn't bring: nothing is left there to be closed or sealed. */
function jointsOfNothing(judged: Case): string[] {
  const { layout, after } = judged;
  return knownStations(judged)
    .flatMap((station) => {
      const { elements } = contentAt(layout, after, station);
      return jointsAt(layout, station).filter((joint) => !isJointThere(layout, joint, elements));
    })
    .map(({ id }) => id);
}

/** Set within bounds on a pump; or of no meaning any more, because the work leaves a function that hasn't it. */
function settingsSettled(judged: Case): string[] {
  const decides = judged.kind === 'conversion' || judged.record.mounting?.on === true;
  return judged.layout.settings
    .map((one) => one.id)
    .filter((id) => (staysOnPump(judged) && isSet(judged, id)) || (decides && hasSetting(judged, id) === false));
}

/** Null where no function is known that could say so. */
function hasSetting({ target }: Case, setting: string): boolean | null {
  if (target === null || 'refused' in target) return null;
  return target.function.settings.some((one) => one.setting === setting);
}

/** By the last result of each. What can only be seen on a pump counts only there. */
function checksMade(judged: Case, isSo: (one: Case['record']['checks'][number]) => boolean): string[] {
  return judged.edition.checks
    .filter((check) => staysOnPump(judged) || !isOfPump(check))
    .map((check) => check.id)
    .filter((id) => {
      const last = lastCheck(judged, id);
      return last !== undefined && isSo(last);
    });
}

/** Leaks, function and plate are the pump's, whatever else the edition says. */
function isOfPump({ where, role }: Case['edition']['checks'][number]): boolean {
  return where === 'mounted' || role === 'leak' || role === 'function' || role === 'plate';
}

/** Seen, or put there; not what is only assumed. */
function knownStations(judged: Case): string[] {
  const stated = Object.keys(foundStations(judged)).filter((id) => judged.found[id]?.basis === 'seen');
  return [...stated, ...touchedBy(judged.record)].filter((id) => isSure(contentAt(judged.layout, judged.after, id)));
}

/** Stations of which everything that was there came out. */
function renewedStations({ record, layout, after }: Case): string[] {
  return touchedBy(record).filter((id) => {
    const put = record.fitted.flatMap(({ station, element, quantity }) =>
      station === id && typeof element === 'string' ? [{ element, quantity }] : [],
    );
    const { elements } = contentAt(layout, after, id);
    return elements !== null && sameHeld(elements, put);
  });
}

/** Whether the record states work or a look that leaves a function, with every decided station known as it demands. */
function leavesFunction({ kind, target, layout, pattern, after }: Case): boolean {
  if (kind !== 'conversion' && kind !== 'repair' && kind !== 'inspection') return false;
  if (target === null || 'refused' in target) return false;
  return Object.entries(pattern).every(([station, demand]) => {
    const content = contentAt(layout, after, station);
    return demand === 'keep' || (isSure(content) && satisfies(content, demand));
  });
}
