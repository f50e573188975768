/**
 * The plan of a mounting: putting a control on a pump. What the control's function demands of the pump's own
 * stations is changed, the mounting joints are closed, every setting of the function is set, and the pump is tested
 * and re-marked.
 */
import type { Edition } from '../catalogue/edition.ts';
import { brokenJoint, brokenJoints, isLocknut, stationOfSetting, toolsOf } from './broken-joints.ts';
import { chooseContents } from './choose-contents.ts';
import { coverNeeds, needsOf } from './cover-needs.ts';
import { type Fit, together } from './fit.ts';
import { type Layout, layoutOf } from './layout.ts';
import type { NoPlan, Plan } from './plan.ts';
import { planSettings } from './plan-settings.ts';
import { stepsOf } from './plan-steps.ts';
import { requiredChecks } from './required-checks.ts';
import { type BuiltFor, type PumpAtHand, targetFunction } from './target-function.ts';
import { chooseWays } from './ways-in.ts';

export type MountingJob = {
  readonly edition: Edition;
  readonly body: string;
  readonly builtFor: BuiltFor;
  readonly pump: PumpAtHand;
  /** Stations of the control, and under `pump/…` those of the pump. */
  readonly fit: Fit;
  /** The control's function; null where it matches none: then only the joints and checks are planned. */
  readonly function: string | null;
  readonly stock?: Readonly<Record<string, number>>;
};

export function planMounting(job: MountingJob): Plan | NoPlan {
  const { edition, pump } = job;
  const misfit = builtForAnother(job.builtFor, pump);
  if (misfit !== null) return { refused: misfit, offered: [] };
  if (job.function === null)
    return { refused: 'the control matches no function: convert it to one first', offered: [] };
  const target = targetFunction(edition, job.body, job.function, pump, job.builtFor);
  if ('refused' in target) return target;
  if (target.size?.bodies.includes(job.body) !== true) {
    return { refused: `body ${job.body} doesn't go on size ${pump.size}`, offered: [] };
  }
  const layout = pumpSideOf(layoutOf(target.body, target.size));
  const chosen = chooseContents(layout, target.pattern, job.fit, {});
  if ('refused' in chosen) return { refused: chosen.refused, offered: [] };
  const { changes, looks, targets } = chosen;

  const changed = changes.map((change) => change.station);
  const ways = chooseWays(layout, changed, looks);
  const whole = layoutOf(target.body, target.size);
  const contents = new Map([
    ...whole.stations.map(({ id }) => [id, job.fit[id]?.elements ?? null] as const),
    ...targets,
  ]);
  const settings = planSettings(
    { edition, layout: whole, function: target.function, functionChanges: true, known: {}, contents },
    ways.opened,
  );
  const stations = new Set(settings.map((one) => stationOfSetting(whole, one.setting)));
  const locknuts = whole.joints.filter((joint) => isLocknut(joint) && stations.has(joint.station)).map(brokenJoint);
  const opened = brokenJoints(layout, ways, new Set(changed), []).filter(
    (one) => !locknuts.some((nut) => nut.joint === one.joint),
  );
  const joints = [...opened, ...whole.mountingJoints.map(brokenJoint), ...locknuts];
  const checks = requiredChecks(edition, 'mounting', true).now;
  return {
    changes,
    opened: ways.opened,
    joints,
    settings,
    steps: stepsOf({
      edition,
      layout: whole,
      fit: job.fit,
      changes,
      looks,
      ways,
      settings,
      settingsLater: [],
      checks,
      mounts: true,
    }),
    tools: toolsOf(joints),
    cover: coverNeeds(needsOf(together(...changes.map((change) => change.in)), joints), {
      edition,
      body: job.body,
      fluid: pump.fluid,
      stock: job.stock,
    }),
    evidence: {
      torques: joints.map((one) => one.joint),
      settings: settings.map((one) => one.setting),
      seals: joints.filter((one) => one.seals.length > 0).map((one) => one.joint),
      checks,
    },
    afterMounting: { settings: [], checks: [], joints: [] },
  };
}

/** A control converted on the shelf states what it is built for; here that meets the pump. */
function builtForAnother(builtFor: BuiltFor, pump: PumpAtHand): string | null {
  if (builtFor.size !== undefined && builtFor.size !== pump.size) {
    return `the control is built for size ${builtFor.size}, the pump is size ${pump.size}`;
  }
  if (builtFor.rotation !== undefined && builtFor.rotation !== pump.rotation) {
    return `the control is built for ${builtFor.rotation} rotation, the pump turns ${pump.rotation}`;
  }
  return null;
}

/** Only the pump's own stations: mounting a control doesn't open the control. */
function pumpSideOf(layout: Layout): Layout {
  const stations = layout.stations.filter((station) => station.id.startsWith('pump/'));
  const ids = new Set(stations.map((station) => station.id));
  return {
    ...layout,
    stations,
    station: new Map(stations.map((station) => [station.id, station])),
    joints: layout.joints.filter((joint) => ids.has(joint.station ?? '')),
    settings: layout.settings.filter((setting) => ids.has(setting.station)),
  };
}
