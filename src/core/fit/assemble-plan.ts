/** A plan from what the work demands: its steps, tools and kits beside it. */

import { isEmpty } from '../quantity/range.ts';
import { toolsOf } from './broken-joints.ts';
import type { Chosen } from './choose-contents.ts';
import { coverNeeds, needsOf } from './cover-needs.ts';
import { type Demanded, type DemandedWork, demandOf, type PlannedWork } from './demand.ts';
import { type Fit, together } from './fit.ts';
import type { NoPlan, Plan, PlannedSetting } from './plan.ts';
import { loadOf } from './plan-load.ts';
import { stepsOf } from './plan-steps.ts';

export function assemblePlan(
  work: PlannedWork,
  { changes }: Chosen,
  bench: {
    readonly fit: Fit;
    readonly fluid: string | null;
    readonly stock: Readonly<Record<string, number>> | undefined;
    readonly day: string | undefined;
    /** What a control on the shelf is built for. */
    readonly size?: string | undefined;
  },
): Plan | NoPlan {
  const demanded = demandOf(work);
  if (demanded.unreached.length > 0) return notReached(demanded, work);
  const impossible = demanded.settings.find(isEmpty);
  if (impossible !== undefined) return noValue(impossible);
  const { edition, layout, kind } = work;
  const { ways, joints, settings, evidence, afterMounting, settingsNow, settingsLater } = demanded;
  const steps = stepsOf({
    edition,
    layout,
    fit: bench.fit,
    after: work.contents,
    changes,
    ways,
    settings: settingsNow,
    settingsLater,
    checks: evidence.checks,
    mounts: kind === 'mounting',
  });
  return {
    changes,
    opened: ways.opened,
    joints,
    settings,
    load: loadOf(work, settings, bench.size),
    steps,
    tools: toolsOf(steps),
    cover: coverNeeds(needsOf(together(...changes.map((change) => change.in)), joints), {
      edition,
      body: layout.body.id,
      fluid: bench.fluid,
      stock: bench.stock,
      day: bench.day,
    }),
    evidence,
    afterMounting,
  };
}

function noValue({ setting, min, max }: PlannedSetting): NoPlan {
  const [least, most] = [min, max].map((bound) => `${bound?.value} ${bound?.unit} (${bound?.from})`);
  return {
    refused: `no value of ${setting} is allowed: it must be at least ${least} and at most ${most}`,
    offered: [],
  };
}

function notReached({ unreached }: Demanded, { opened }: DemandedWork): NoPlan {
  const through = opened === undefined ? 'while the control is off its pump' : 'through what was opened';
  return { refused: `${unreached.join(' and ')} can't be reached ${through}`, offered: [] };
}
