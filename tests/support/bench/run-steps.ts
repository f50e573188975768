/** A plan's steps, done one after the other on a bench. */
import type { Step } from '../../../src/core/fit/plan.ts';
import type { Bench } from './bench.ts';

export function runSteps(bench: Bench, steps: readonly Step[]): void {
  for (const step of steps) {
    try {
      doStep(bench, step);
    } catch (error) {
      throw new Error(`step ${step.step} (${step.action}): ${error instanceof Error ? error.message : error}`);
    }
  }
}

function doStep(bench: Bench, step: Step): void {
  const station = () => named(step.station, 'station');
  const deeds: Record<Step['action'], () => void> = {
    open: () => (step.joint === undefined ? bench.reach(station()) : bench.breakJoint(step.joint)),
    look: () => bench.look(station()),
    'take-out': () => bench.takeOut(station(), step.elements ?? null),
    'put-in': () => bench.putIn(station(), step.elements ?? null, step.same === true),
    close: () => bench.closeJoint(named(step.joint, 'joint')),
    set: () => bench.set(named(step.setting, 'setting')),
    lock: () => bench.closeJoint(named(step.joint, 'joint')),
    mount: () => bench.mount(),
    'back-off': () => bench.backOff(named(step.setting, 'setting')),
    read: () => bench.read(named(step.setting, 'setting')),
    're-read': () => bench.reRead(named(step.setting, 'setting')),
    'make-safe': nothingMoves,
    check: nothingMoves,
    're-mark': nothingMoves,
  };
  deeds[step.action]();
}

function nothingMoves(): void {}

function named(name: string | undefined, what: string): string {
  if (name === undefined) throw new Error(`names no ${what}`);
  return name;
}
