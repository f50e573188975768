/**
 * What work demands, whether planned or recorded: the joints it breaks, what must be set and checked, now or once
 * the control is on a pump. The planner draws its steps from this, the judge holds a record against it.
 */
import type { Edition, Fun, RecordKind } from '../catalogue/edition.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { brokenJoint, isLocknutThere, jointsToClose, stationsTurned } from './broken-joints.ts';
import { disturbedBy, disturbingStations } from './disturbed-settings.ts';
import type { Layout } from './layout.ts';
import type { BrokenJoint, Plan, PlannedSetting } from './plan.ts';
import { planSettings } from './plan-settings.ts';
import { requiredChecks } from './required-checks.ts';
import { type Contents, chooseWays, type WaysIn, waysWithin } from './ways-in.ts';

export type DemandedWork = {
  readonly edition: Edition;
  readonly layout: Layout;
  readonly kind: RecordKind;
  readonly onPump: boolean;
  /** Null where the fit matches none: no setting has a meaning then. */
  readonly function: Fun | null;
  readonly functionChanges: boolean;
  /** Settings that the pair is known to have. */
  readonly known: Readonly<Record<string, Quantity>>;
  /** Settings that are set in any case, needed or not. */
  readonly set: readonly string[];
  /** What each station holds before the work, and what afterwards. */
  readonly before: Contents;
  readonly contents: Contents;
  /** Stations whose content is changed, and those only looked at. */
  readonly toOpen: readonly string[];
  readonly toReach: readonly string[];
  /** Stations stated as opened, in place of the best ways in. */
  readonly opened: readonly string[] | undefined;
};

/** What is planned leads to a function. */
export type PlannedWork = DemandedWork & { readonly function: Fun };

export type Demanded = Pick<Plan, 'joints' | 'settings' | 'evidence' | 'afterMounting'> & {
  readonly ways: WaysIn;
  readonly settingsNow: readonly PlannedSetting[];
  readonly settingsLater: readonly PlannedSetting[];
  /** Stations that what was stated as opened doesn't reach. */
  readonly unreached: readonly string[];
};

export function demandOf(work: DemandedWork): Demanded {
  const { layout, toOpen, toReach } = work;
  const disturbing = disturbingStations(work.edition, layout);
  const { ways, unreached } =
    work.opened === undefined
      ? chooseWays(layout, toOpen, toReach, work.before, disturbing)
      : waysWithin(layout, new Set([...work.opened, ...toOpen]), []);
  const disturbed = disturbedBy(disturbing, ways.opened);
  const settings = work.function === null ? [] : planSettings({ ...work, function: work.function }, disturbed);
  const [settingsNow, settingsLater] = work.onPump ? [settings, []] : [[], settings];
  const joints = jointsOf(work, ways, settingsNow);
  const isAlways = work.kind === 'mounting' || work.kind === 'test';
  const isWork = isAlways || work.functionChanges || ways.opened.length > 0 || settings.length > 0;
  const checks = isWork ? requiredChecks(work.edition, work.kind, work.onPump) : { now: [], afterMounting: [] };
  const later = locknutsOf(work, settingsLater).map((joint) => joint.id);
  return {
    ways,
    unreached,
    joints,
    settings,
    settingsNow,
    settingsLater,
    evidence: {
      torques: joints.map((one) => one.joint).filter((id) => !later.includes(id)),
      settings: settingsNow.map((one) => one.setting),
      seals: joints.filter((one) => one.seals.length > 0).map((one) => one.joint),
      checks: checks.now,
    },
    afterMounting: {
      settings: settingsLater.map((one) => one.setting),
      checks: checks.afterMounting,
      joints: joints.map((one) => one.joint).filter((id) => later.includes(id)),
    },
  };
}

/** In the catalogue's order; for a mounting the mounting joints, and the locknuts of all that is set, come after. */
function jointsOf(work: DemandedWork, ways: WaysIn, settingsNow: readonly PlannedSetting[]): BrokenJoint[] {
  const changed = new Set(work.toOpen);
  if (work.kind !== 'mounting') return jointsToClose(work.layout, ways, changed, work.contents, settingsNow);
  const locknuts = locknutsOf(work, settingsNow);
  const opened = jointsToClose(work.layout, ways, changed, work.contents, []).filter(
    (one) => !locknuts.some((nut) => nut.id === one.joint),
  );
  return [...opened, ...[...work.layout.mountingJoints, ...locknuts].map(brokenJoint)];
}

function locknutsOf({ layout, contents }: DemandedWork, settings: readonly PlannedSetting[]) {
  const stations = stationsTurned(layout, settings);
  return layout.joints.filter((joint) => stations.has(joint.station) && isLocknutThere(layout, joint, contents));
}
