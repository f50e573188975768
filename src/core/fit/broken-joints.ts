/** Joints as a plan lists them. */
import type { Joint, Tool } from '../catalogue/edition.ts';
import { isJointThere, type Layout, type StationJoint } from './layout.ts';
import type { BrokenJoint, PlannedSetting, Step } from './plan.ts';
import { type Contents, jointsWorked, type WaysIn } from './ways-in.ts';

/**
 * Every joint that a job closes, in the catalogue's order: those of opened and changed stations with what they hold
 * after it, and the locknuts of settings that are set on the way out. All were broken but those of empty seats.
 */
export function jointsToClose(
  layout: Layout,
  ways: WaysIn,
  changed: ReadonlySet<string>,
  after: Contents,
  set: readonly PlannedSetting[],
): BrokenJoint[] {
  const opened = new Set(jointsWorked(layout, ways.opened, changed, after));
  const adjusted = stationsTurned(layout, set);
  return layout.joints
    .filter((joint) => opened.has(joint) || (adjusted.has(joint.station) && isLocknutThere(layout, joint, after)))
    .map(brokenJoint);
}

/** A joint that is closed when the setting at its station has been set. */
export function isLocknut(joint: Joint): boolean {
  return joint.closed === 'after-setting';
}

/** A locknut that is there while its station holds this. */
export function isLocknutThere(layout: Layout, joint: StationJoint, contents: Contents): boolean {
  return isLocknut(joint) && isJointThere(layout, joint, contents.get(joint.station) ?? null);
}

/** The stations at which something is turned to make these settings: what is only read asks for no loose locknut. */
export function stationsTurned(layout: Layout, settings: readonly PlannedSetting[]): ReadonlySet<string> {
  const turned = settings.filter((one) => one.adjusted !== false).map((one) => one.setting);
  return new Set(layout.settings.filter(({ id }) => turned.includes(id)).map(({ station }) => station));
}

export function brokenJoint(joint: Joint): BrokenJoint {
  return {
    joint: joint.id,
    station: joint.station ?? null,
    count: joint.count,
    torque: joint.torque,
    tool: joint.tool,
    seals: joint.seals,
    ...(joint.closed && { closed: joint.closed }),
    ...(joint.threadLock !== undefined && { threadLock: joint.threadLock }),
    ...(joint.sequence !== undefined && { sequence: joint.sequence }),
  };
}

/** Each tool once, in the order in which it is first needed. */
export function toolsOf(steps: readonly Step[]): Tool[] {
  const needed = steps.flatMap(({ tool }) => (tool === undefined ? [] : [tool]));
  const tools = new Map(needed.map((tool) => [`${tool.drive} ${tool.size}`, tool]));
  return [...tools.values()];
}
