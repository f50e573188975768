/** A plan's steps, done one after the other on a bench. */
import type { Step } from '../../../src/core/fit/plan.ts';
import type { Bench } from './bench.ts';
import { jointsAt, type Layout } from './layout.ts';

export function runSteps(bench: Bench, layout: Layout, steps: readonly Step[]): void {
  for (const step of steps) {
    try {
      doStep(bench, layout, step);
    } catch (error) {
      throw new Error(`step ${step.step} (${step.action}): ${error instanceof Error ? error.message : error}`);
    }
  }
}

function doStep(bench: Bench, layout: Layout, step: Step): void {
  const station = () => named(step.station, 'station');
  const deeds: Record<Step['action'], () => void> = {
    open: () => (step.joint === undefined ? bench.reach(station()) : bench.breakJoint(step.joint)),
    look: () => bench.look(station()),
    'take-out': () => bench.takeOut(station(), step.elements ?? null),
    'put-in': () => bench.putIn(station(), step.elements ?? null, step.same === true),
    close: () => bench.closeJoint(named(step.joint, 'joint')),
    set: () => bench.set(named(step.setting, 'setting')),
    lock: () => lock(bench, layout, step),
    'take-off': noSuchStep,
    mount: noSuchStep,
    'make-safe': nothingMoves,
    'back-off': nothingMoves,
    're-read': nothingMoves,
    check: nothingMoves,
    're-mark': nothingMoves,
  };
  deeds[step.action]();
}

function nothingMoves(): void {}

function noSuchStep(): void {
  throw new Error('a conversion takes no control off its pump');
}

/** Locks the joint named, or every open locknut where the setting is made. */
function lock(bench: Bench, layout: Layout, step: Step): void {
  if (step.joint !== undefined) {
    bench.closeJoint(step.joint);
    return;
  }
  const at = layout.settings.get(named(step.setting, 'setting'))?.station ?? '';
  const locknuts = jointsAt(layout, at).filter((joint) => joint.closed !== undefined && bench.isBroken(joint.id));
  if (locknuts.length === 0) throw new Error(`nothing to lock for ${step.setting}`);
  for (const joint of locknuts) bench.closeJoint(joint.id);
}

function named(name: string | undefined, what: string): string {
  if (name === undefined) throw new Error(`names no ${what}`);
  return name;
}
