/** The steps of a job, in the order in which they are done at the bench. */
import type { Edition } from '../catalogue/edition.ts';
import { isLocknut, stationOfSetting } from './broken-joints.ts';
import { type Fit, type Held, isSure, without } from './fit.ts';
import { comesOut, contentAt, jointsAt, jointsBroken, type Layout } from './layout.ts';
import { orderWork } from './order-work.ts';
import type { Change, PlannedSetting, Step } from './plan.ts';
import { textOf } from './step-texts.ts';
import type { WaysIn } from './ways-in.ts';

export type Work = {
  readonly edition: Edition;
  readonly layout: Layout;
  readonly fit: Fit;
  readonly changes: readonly Change[];
  readonly looks: readonly string[];
  readonly ways: WaysIn;
  /** Set now, in this order. */
  readonly settings: readonly PlannedSetting[];
  /** Set once the control is on a pump: their locknuts stay open until then. */
  readonly settingsLater: readonly PlannedSetting[];
  readonly checks: readonly string[];
  /** Whether the control is put on its pump after the stations are closed. */
  readonly mounts: boolean;
};

type Draft = Omit<Step, 'step' | 'text'>;

export function stepsOf(work: Work): Step[] {
  const steps = [
    ...orderWork(work.layout, work.ways, work.looks).flatMap((move): Draft[] => {
      if (move.do === 'look') return [{ action: 'look', station: move.station }];
      return move.do === 'open' ? openStation(work, move.station) : closeStation(work, move.station);
    }),
    ...(work.mounts ? mount(work.layout) : []),
    ...setAndLock(work),
    ...checkAndMark(work),
  ];
  if (steps.length === 0) return [];
  return [{ action: 'make-safe' as const }, ...steps].map((step, index) => ({
    step: index + 1,
    ...step,
    text: textOf(work.edition, work.layout, step),
  }));
}

function openStation(work: Work, station: string): Draft[] {
  const content = contentAt(work.layout, work.fit, station);
  const change = work.changes.find((one) => one.station === station);
  const aside = movedAside(work, station, change);
  const joints = jointsBroken(work.layout, station, change !== undefined);
  const inOrder = [
    ...joints.filter(isLocknut),
    ...joints.filter((joint) => !isLocknut(joint) && joint.opens),
    ...joints.filter((joint) => !isLocknut(joint) && !joint.opens),
  ];
  return [
    ...(isSure(content) ? [] : [{ action: 'look' as const, station }]),
    ...inOrder.map(({ id, tool }) => ({ action: 'open' as const, station, joint: id, tool })),
    ...moves('take-out', station, aside, true),
    ...(change === undefined ? [] : moves('take-out', station, change.out, false)),
  ];
}

function closeStation(work: Work, station: string): Draft[] {
  const change = work.changes.find((one) => one.station === station);
  const joints = jointsBroken(work.layout, station, change !== undefined).filter((joint) => !staysOpen(work, joint));
  const inOrder = [...joints.filter((joint) => !joint.opens), ...joints.filter((joint) => joint.opens)];
  return [
    ...moves('put-in', station, movedAside(work, station, change), true),
    ...(change === undefined ? [] : moves('put-in', station, change.in, false)),
    ...inOrder.map(({ id, tool }) => ({ action: 'close' as const, station, joint: id, tool })),
  ];
}

/** What comes out of an opened station only to go back; null: whatever is there. */
function movedAside(work: Work, station: string, change: Change | undefined): readonly Held[] | null {
  const content = contentAt(work.layout, work.fit, station);
  if (!comesOut(work.layout, station, change !== undefined)) return [];
  if (change === undefined) return content.elements;
  return change.out === null || content.elements === null ? [] : without(content.elements, change.out);
}

function moves(
  action: 'take-out' | 'put-in',
  station: string,
  elements: readonly Held[] | null,
  same: boolean,
): Draft[] {
  return elements?.length === 0 ? [] : [{ action, station, elements, same }];
}

/** A locknut waits for the setting at its station, now or on the pump. Without such a setting it is closed at once. */
function staysOpen(work: Work, joint: Layout['joints'][number]): boolean {
  const waiting = [...work.settings, ...work.settingsLater].map((one) => stationOfSetting(work.layout, one.setting));
  return isLocknut(joint) && waiting.includes(joint.station);
}

function mount(layout: Layout): Draft[] {
  return [
    { action: 'mount' },
    ...layout.mountingJoints.map(({ id, tool }) => ({ action: 'close' as const, joint: id, tool })),
  ];
}

/** Every adjuster is backed off before the first is set; each is locked and read again, because locking shifts it. */
function setAndLock(work: Work): Draft[] {
  const stations = work.settings.map((one) => stationOfSetting(work.layout, one.setting) ?? '');
  const backOff = work.settings.flatMap(({ setting }, index): Draft[] => {
    const station = stations[index] ?? '';
    const first = stations.indexOf(station) === index && !work.ways.opened.includes(station) && !work.mounts;
    return [...(first ? locknuts(work.layout, 'open', station) : []), { action: 'back-off', setting, station }];
  });
  const set = work.settings.flatMap(({ setting }, index): Draft[] => {
    const station = stations[index] ?? '';
    if (stations.lastIndexOf(station) !== index) return [{ action: 'set', setting, station }];
    // Whatever else is set at the station shifts with the same locknuts.
    const atStation = work.settings.filter((_, other) => stations[other] === station);
    return [
      { action: 'set', setting, station },
      ...locknuts(work.layout, 'lock', station),
      ...atStation.map((one): Draft => ({ action: 're-read', setting: one.setting, station })),
    ];
  });
  return [...backOff, ...set];
}

function locknuts(layout: Layout, action: 'open' | 'lock', station: string): Draft[] {
  return jointsAt(layout, station)
    .filter(isLocknut)
    .map(({ id, tool }) => ({ action, station, joint: id, tool }));
}

/** Making safe is the first step already. */
function checkAndMark(work: Work): Draft[] {
  return work.checks.flatMap((id): Draft[] => {
    const role = work.edition.checks.find((check) => check.id === id)?.role;
    if (role === 'safety') return [];
    return [{ action: role === 'plate' ? 're-mark' : 'check', check: id }];
  });
}
