/** Joints as a plan lists them. */
import type { Joint, Tool } from '../catalogue/edition.ts';
import { isJointThere, type Layout } from './layout.ts';
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
  const adjusted = new Set(set.map((one) => stationOfSetting(layout, one.setting)));
  return layout.joints
    .filter((joint) => opened.has(joint) || (adjusted.has(joint.station) && isLocknutThere(layout, joint, after)))
    .map(brokenJoint);
}

/** A joint that is closed when the setting at its station has been set. */
export function isLocknut(joint: Joint): boolean {
  return joint.closed === 'after-setting';
}

/** A locknut that is there while its station holds this. */
export function isLocknutThere(layout: Layout, joint: Joint, contents: Contents): boolean {
  return isLocknut(joint) && isJointThere(layout, joint, contents.get(joint.station ?? '') ?? null);
}

export function stationOfSetting(layout: Layout, setting: string): string | undefined {
  return layout.settings.find((one) => one.id === setting)?.station;
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
