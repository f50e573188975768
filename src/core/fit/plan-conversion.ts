/**
 * The plan of a conversion: from any fit, also one that matches no function or is partly unknown, to a function and
 * choice. Pure: the same job gives the same plan.
 */
import type { Edition } from '../catalogue/edition.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { brokenJoints, isLocknut, stationOfSetting, toolsOf } from './broken-joints.ts';
import { chooseContents } from './choose-contents.ts';
import { coverNeeds, needsOf } from './cover-needs.ts';
import { type Fit, together } from './fit.ts';
import { layoutOf } from './layout.ts';
import type { NoPlan, Plan } from './plan.ts';
import { planSettings } from './plan-settings.ts';
import { stepsOf } from './plan-steps.ts';
import { requiredChecks } from './required-checks.ts';
import { type BuiltFor, type PumpAtHand, targetFunction } from './target-function.ts';
import { chooseWays, waysWithin } from './ways-in.ts';

export type ConversionJob = {
  readonly edition: Edition;
  readonly body: string;
  /** The pump that the control sits on; null: it is on the shelf. */
  readonly pump: PumpAtHand | null;
  /** What a control on the shelf is built for, as far as it is decided. */
  readonly builtFor: BuiltFor;
  readonly fit: Fit;
  /** The function declared so far; null: none that matches. */
  readonly from: string | null;
  /** Settings that the pair of control and pump is known to have. */
  readonly settings: Readonly<Record<string, Quantity>>;
  readonly to: string;
  /** By station the element to fit where the pattern leaves several. */
  readonly choices: Readonly<Record<string, string>>;
  /** Kits on the shelf by part; without it every kit is to be had. */
  readonly stock?: Readonly<Record<string, number>>;
  /** What a record says was opened, in place of the ways that the planner would choose. */
  readonly opened?: readonly string[];
};

export function planConversion(job: ConversionJob): Plan | NoPlan {
  const target = targetFunction(job.edition, job.body, job.to, job.pump, job.builtFor);
  if ('refused' in target) return target;
  const layout = layoutOf(target.body, target.size);
  const chosen = chooseContents(layout, target.pattern, job.fit, job.choices);
  if ('refused' in chosen) return { refused: chosen.refused, offered: [] };
  const { changes, looks, targets } = chosen;

  const changed = changes.map((change) => change.station);
  const { ways, unreached } =
    job.opened === undefined
      ? { ways: chooseWays(layout, changed, looks), unreached: [] }
      : waysWithin(layout, new Set([...job.opened, ...changed]), []);
  if (unreached.length > 0) {
    return { refused: `${unreached.join(' and ')} can't be reached through what was opened`, offered: [] };
  }

  const functionChanges = job.from !== job.to;
  const onPump = job.pump !== null;
  const settings = planSettings(
    {
      edition: job.edition,
      layout,
      function: target.function,
      functionChanges,
      known: job.settings,
      contents: targets,
    },
    ways.opened,
  );
  const [settingsNow, settingsLater] = onPump ? [settings, []] : [[], settings];
  const joints = brokenJoints(layout, ways, new Set(changed), settingsNow);
  const isWork = functionChanges || ways.opened.length > 0 || settings.length > 0;
  const checks = isWork ? requiredChecks(job.edition, 'conversion', onPump) : { now: [], afterMounting: [] };
  const waiting = new Set(settingsLater.map((one) => stationOfSetting(layout, one.setting)));
  const jointsLater = layout.joints
    .filter((joint) => isLocknut(joint) && waiting.has(joint.station))
    .map((one) => one.id);

  return {
    changes,
    opened: ways.opened,
    joints,
    settings,
    steps: stepsOf({
      edition: job.edition,
      layout,
      fit: job.fit,
      changes,
      looks: job.opened === undefined ? looks : [],
      ways,
      settings: settingsNow,
      settingsLater,
      checks: checks.now,
      mounts: false,
    }),
    tools: toolsOf(joints),
    cover: coverNeeds(needsOf(together(...changes.map((change) => change.in)), joints), {
      edition: job.edition,
      body: job.body,
      fluid: job.pump?.fluid ?? null,
      stock: job.stock,
    }),
    evidence: {
      torques: joints.map((one) => one.joint).filter((id) => !jointsLater.includes(id)),
      settings: settingsNow.map((one) => one.setting),
      seals: joints.filter((one) => one.seals.length > 0).map((one) => one.joint),
      checks: checks.now,
    },
    afterMounting: {
      settings: settingsLater.map((one) => one.setting),
      checks: checks.afterMounting,
      joints: jointsLater.filter((id) => joints.some((one) => one.joint === id)),
    },
  };
}
