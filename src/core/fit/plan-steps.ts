/** The steps of a job, in the order in which they are done at the bench. */
import type { Edition, Joint, Setting } from '../catalogue/edition.ts';
import { isLocknut, isLocknutThere, stationsTurned } from './broken-joints.ts';
import { type Fit, type Held, isSure, without } from './fit.ts';
import { comesOut, contentAt, jointsAround, jointsAt, type Layout, type StationJoint } from './layout.ts';
import { orderWork } from './order-work.ts';
import type { Change, PlannedSetting, Step } from './plan.ts';
import type { Contents, WaysIn } from './ways-in.ts';

export type Work = {
  readonly edition: Edition;
  readonly layout: Layout;
  readonly fit: Fit;
  /** What each station holds afterwards. */
  readonly after: Contents;
  readonly changes: readonly Change[];
  readonly ways: WaysIn;
  /** Set now, in this order. */
  readonly settings: readonly PlannedSetting[];
  /** Set once the control is on a pump: their locknuts stay open until then. */
  readonly settingsLater: readonly PlannedSetting[];
  readonly checks: readonly string[];
  /** Whether the control is put on its pump after the stations are closed. */
  readonly mounts: boolean;
};

type Draft = Omit<Step, 'step'>;

export function stepsOf(work: Work): Step[] {
  const steps = [
    ...orderWork(work.layout, work.ways).flatMap((move): Draft[] => {
      if (move.do === 'look') return [look(move.station)];
      return move.do === 'open' ? openStation(work, move.station) : closeStation(work, move.station);
    }),
    ...(work.mounts ? mount(work.layout) : []),
    ...setAndLock(work),
    ...checkAndMark(work),
  ];
  if (steps.length === 0) return [];
  const first: Draft = { action: 'make-safe' };
  return [first, ...steps].map((step, index) => ({ step: index + 1, ...step }));
}

function look(station: string): Draft {
  return { action: 'look', station };
}

function openStation(work: Work, station: string): Draft[] {
  const content = contentAt(work.layout, work.fit, station);
  const change = work.changes.find((one) => one.station === station);
  const takeOut = (elements: readonly Held[] | null, same: boolean): Draft[] =>
    moves('take-out', station, elements, same);
  const joints = jointsAround(work.layout, station, change !== undefined, content.elements);
  const inOrder = [
    ...joints.filter(isLocknut),
    ...joints.filter((joint) => !isLocknut(joint) && joint.opens),
    ...joints.filter((joint) => !isLocknut(joint) && !joint.opens),
  ];
  return [
    ...(isSure(content) ? [] : [look(station)]),
    ...inOrder.map((joint) => jointStep('open', station, joint)),
    ...takeOut(movedAside(work, station, change), true),
    ...(change === undefined ? [] : takeOut(change.out, false)),
  ];
}

function closeStation(work: Work, station: string): Draft[] {
  const change = work.changes.find((one) => one.station === station);
  const putIn = (elements: readonly Held[] | null, same: boolean): Draft[] => moves('put-in', station, elements, same);
  const held = work.after.get(station) ?? null;
  const joints = jointsAround(work.layout, station, change !== undefined, held).filter(
    (joint) => !staysOpen(work, joint),
  );
  const inOrder = [...joints.filter((joint) => !joint.opens), ...joints.filter((joint) => joint.opens)];
  return [
    ...putIn(movedAside(work, station, change), true),
    ...(change === undefined ? [] : putIn(change.in, false)),
    ...inOrder.map((joint) => jointStep('close', station, joint)),
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

function jointStep(action: 'open' | 'close' | 'lock', station: string, { id, tool }: Joint): Draft {
  return { action, station, joint: id, tool };
}

/** A locknut waits for the setting at its station, now or on the pump. Without such a setting it is closed at once. */
function staysOpen(work: Work, joint: StationJoint): boolean {
  return isLocknut(joint) && stationsTurned(work.layout, [...work.settings, ...work.settingsLater]).has(joint.station);
}

function mount(layout: Layout): Draft[] {
  return [
    { action: 'mount' },
    ...layout.mountingJoints.map((joint): Draft => ({ action: 'close', joint: joint.id, tool: joint.tool })),
  ];
}

/**
 * Every adjuster is backed off before the first is set; each is locked and read again, because locking shifts it. What
 * is only read at its station is read then.
 */
function setAndLock(work: Work): Draft[] {
  const { layout, settings } = work;
  const inOrder = settings.flatMap((planned) => layout.settings.filter(({ id }) => id === planned.setting));
  const set = inOrder.flatMap((setting, index): Draft[] => {
    const { id, station } = setting;
    const here = inOrder.filter((other) => other.station === station);
    const setIt: Draft[] = isTurned(setting) ? [{ action: 'set', setting: id, station }] : [];
    if (inOrder.findLastIndex((other) => other.station === station) !== index) return setIt;
    // Whatever else is set at the station shifts with the same locknuts.
    return [
      ...setIt,
      ...(here.some(isTurned) ? locknutsAt(work, station) : []).map((one) => jointStep('lock', station, one)),
      ...here.map((one): Draft => ({ action: isTurned(one) ? 're-read' : 'read', setting: one.id, station })),
    ];
  });
  return [...backOff(work, inOrder.filter(isTurned)), ...set];
}

function backOff(work: Work, turned: readonly Setting[]): Draft[] {
  const stations = turned.map(({ station }) => station);
  return turned.flatMap(({ id, station }, index): Draft[] => {
    const isTight = stations.indexOf(station) === index && !work.ways.opened.includes(station);
    return [
      ...(isTight ? locknutsAt(work, station) : []).map((one) => jointStep('open', station, one)),
      { action: 'back-off', setting: id, station },
    ];
  });
}

function locknutsAt({ layout, after }: Work, station: string): StationJoint[] {
  return jointsAt(layout, station).filter((joint) => isLocknutThere(layout, joint, after));
}

function isTurned({ adjusted }: Setting): boolean {
  return adjusted !== false;
}

/** Making safe is the first step already. */
function checkAndMark(work: Work): Draft[] {
  return work.edition.checks
    .filter((check) => work.checks.includes(check.id) && check.role !== 'safety')
    .map((check) => ({
      action: check.role === 'plate' ? 're-mark' : 'check',
      check: check.id,
    }));
}
