/**
 * The plan by trying everything: each choice of one way a station, and each useful bag of kits. It is what the tests hold
 * the planner against; it says which stations are opened and which kits are taken, and no more than that.
 */
import type { ConversionJob } from '../../../src/core/fit/plan-conversion.ts';
import { bestCover } from '../../support/bench/best-cover.ts';
import { cratesFor, errandOf, targetsOf } from '../../support/bench/expected.ts';
import { demandsOf, layoutOf } from '../../support/bench/layout.ts';
import { type Bag, put } from '../../support/bench/pieces.ts';
import type { Task } from '../../support/bench/task.ts';
import { bestWaysIn, jointsBrokenAt } from '../../support/bench/ways-in.ts';

export type SlowPlan = { readonly opened: readonly string[]; readonly kits: readonly string[] };

export function slowPlan(job: ConversionJob): SlowPlan {
  const task = taskOf(job);
  const errand = errandOf(task);
  const [way] = bestWaysIn(task.layout, errand);
  if (way === undefined) throw new Error('nothing leads there');
  const needs: Bag = new Map();
  for (const [station, target] of targetsOf(task)) {
    if (!errand.changed.includes(station)) continue;
    for (const { element, quantity } of target ?? []) put(needs, element, quantity);
  }
  const broken = [...way.opened].flatMap((id) =>
    jointsBrokenAt(task.layout, id, errand.changed.includes(id), errand.absent),
  );
  for (const joint of broken)
    for (const { seal, quantity } of task.layout.joints.get(joint)?.seals ?? []) put(needs, `seal ${seal}`, quantity);
  return { opened: [...way.opened].sort(), kits: bestCover(needs, cratesFor(job)).parts };
}

function taskOf(job: ConversionJob): Task {
  const { edition, body, pump, fit, choices, settings, from, to, builtFor } = job;
  const fun = edition.functions.find((each) => each.id === to && each.body === body);
  if (fun === undefined) throw new Error(`the edition has no function ${to}`);
  return {
    ...{ edition, layout: layoutOf(edition, body, pump), fit, fun, choices, settings },
    demands: demandsOf(fun, pump ?? builtFor) ?? {},
    functionChanges: from !== to,
    onPump: pump !== null,
  };
}
