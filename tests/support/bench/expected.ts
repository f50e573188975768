/** What a job must come to, said from the edition and the design alone, to hold a plan against. */
import type { NoPlan, Plan } from '../../../src/core/fit/plan.ts';
import { type ConversionJob, planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { type Bench, benchOf, type Start } from './bench.ts';
import type { Crate } from './best-cover.ts';
import { disturbedAt, elementById, isAbsent, jointsAt, type Layout } from './layout.ts';
import { type Bag, bagOf, type Piece, put, shown, wanted } from './pieces.ts';
import { runSteps } from './run-steps.ts';
import type { Task } from './task.ts';
import type { Errand } from './ways-in.ts';

/** The content of a station as far as it is known, and whether somebody has seen it; what accepts nothing is empty. */
export function knownAt({ layout, fit }: Task, station: string): { elements: readonly Piece[] | null; sure: boolean } {
  if (layout.stations.get(station)?.accepts.length === 0) return { elements: [], sure: true };
  const { elements = null, basis = 'unknown' } = fit[station] ?? {};
  return { elements, sure: basis !== 'assumed' && basis !== 'unknown' };
}

/** What must sit at each station in the end; null where that is whatever sits there. */
export function targetsOf(task: Task): Map<string, readonly Piece[] | null> {
  return new Map(
    [...task.layout.stations.keys()].map((id) => {
      const demand = task.demands[id] ?? 'keep';
      const most = task.layout.stations.get(id)?.most ?? 0;
      return [id, demand === 'keep' ? null : wanted(knownAt(task, id).elements, demand, task.choices[id], most)];
    }),
  );
}

/** Stations to change, and those that are right only if an assumption is: they are looked at. */
export function errandOf(task: Task): Errand {
  const [changed, looked]: [string[], string[]] = [[], []];
  const absent = absentWith(task, (id) => knownAt(task, id).elements);
  for (const [id, target] of targetsOf(task)) {
    const { elements, sure } = knownAt(task, id);
    if (target === null) continue;
    if (elements === null || shown(elements) !== shown(target)) changed.push(id);
    else if (!sure) looked.push(id);
  }
  return { changed, looked, absent };
}

/** Joints that nothing brings in the end, as far as anybody knows. */
export function absentInTheEnd(task: Task): string[] {
  const targets = targetsOf(task);
  return absentWith(task, (id) => targets.get(id) ?? knownAt(task, id).elements);
}

function absentWith({ layout }: Task, contentOf: (station: string) => readonly Piece[] | null): string[] {
  return [...layout.joints.values()]
    .filter((joint) => {
      const content = contentOf(joint.station);
      return content !== null && isAbsent(layout, joint, bagOf(content).keys());
    })
    .map((joint) => joint.id);
}

/** What limits a setting once the work is done. Limits in made-up editions are whole numbers in one unit. */
export type Limit = { from: string; min: number; max: number };

export function limitsOf(task: Task, setting: string): Limit[] {
  const { edition, layout, fun, onPump } = task;
  const listed = fun.settings.find((each) => each.setting === setting);
  const fitted = [...targetsOf(task)].flatMap(([id, target]) => target ?? knownAt(task, id).elements ?? []);
  const ranges = fitted.flatMap(({ element }) => {
    const range = elementById(edition, element)?.ranges?.[setting];
    return range ? [{ from: `element ${element}`, min: Number(range.min.value), max: Number(range.max.value) }] : [];
  });
  const size = edition.series[0]?.sizes[0];
  const isPressure = onPump && layout.settings.get(setting)?.quantity === 'pressure';
  const highest = { from: `size ${size?.id}`, min: -Infinity, max: Number(size?.highestSetting.value) };
  return [{ from: `function ${fun.id}`, ...demandedLimits(listed) }, ...ranges, ...(isPressure ? [highest] : [])];
}

function demandedLimits(listed: Task['fun']['settings'][number] | undefined): { min: number; max: number } {
  const [target, tolerance] = [Number(listed?.target?.value), Number(listed?.tolerance?.value)];
  if (listed?.target) return { min: target - tolerance, max: target + tolerance };
  return { min: Number(listed?.min?.value ?? -Infinity), max: Number(listed?.max?.value ?? Infinity) };
}

export function tightest(limits: readonly Limit[]): { min: number; max: number } {
  return { min: Math.max(...limits.map((each) => each.min)), max: Math.min(...limits.map((each) => each.max)) };
}

export function isWithinLimits(task: Task, setting: string): boolean {
  const { min, max } = tightest(limitsOf(task, setting));
  const known = Number(task.settings[setting]?.value ?? Number.NaN);
  return known >= min && known <= max;
}

/** The settings of the function that are at hand, by rank. */
export function listedSettings({ fun, layout }: Task): string[] {
  const listed = fun.settings.map((each) => each.setting);
  return [...layout.settings.values()]
    .filter(({ id }) => listed.includes(id))
    .toSorted((one, other) => one.rank - other.rank)
    .map(({ id }) => id);
}

/** What must be set: what is disturbed or isn't as needed, and whatever shares a locknut with such. */
export function settingsToMake(task: Task, opened: readonly string[]): string[] {
  const { layout, functionChanges } = task;
  const disturbed = opened.flatMap((station) => disturbedAt(layout, station));
  const due = (id: string) => disturbed.includes(id) || (functionChanges && !isWithinLimits(task, id));
  const listed = listedSettings(task);
  const stationOf = (id: string) => layout.settings.get(id)?.station ?? '';
  const loosened = listed
    .filter((id) => due(id) && isTurned(task, id))
    .map(stationOf)
    .filter((station) => locknutsAt(task, station).length > 0);
  return listed.filter((id) => due(id) || loosened.includes(stationOf(id)));
}

/** Whether something is turned to make a setting; if not it is only read. */
export function isTurned({ layout }: Task, setting: string): boolean {
  return layout.settings.get(setting)?.adjusted !== false;
}

export function planOf(job: ConversionJob): Plan {
  return planned(planConversion(job));
}

export function planned(plan: Plan | NoPlan): Plan {
  if ('refused' in plan) throw new Error(`refused: ${plan.refused}`);
  return plan;
}

/** Does the plan on a bench with what really sits in the control, to the end. */
export function doPlan(
  { layout, truth }: { layout: Layout; truth: Readonly<Record<string, readonly Piece[]>> },
  plan: Plan,
  start: Start = {},
): Bench {
  const bench = benchOf(layout, truth, start);
  runSteps(bench, plan.steps);
  bench.finish(
    Object.fromEntries(plan.changes.map((change) => [change.station, change.out])),
    plan.afterMounting.joints,
  );
  return bench;
}

/** Whatever hands worked at or left open, but what went with a part that came out. */
export function toBeClosed(made: Task, bench: Bench): string[] {
  const absent = absentInTheEnd(made);
  const open = [...made.layout.joints.keys()].filter(bench.isBroken);
  const worked = new Set([...bench.everBroken(), ...bench.everClosed(), ...open]);
  return [...worked].filter((id) => !absent.includes(id)).sort();
}

/** The locknuts that hold what is set at a station, once the work is done. */
export function locknutsAt(task: Task, station: string): string[] {
  const absent = absentInTheEnd(task);
  const locknuts = jointsAt(task.layout, station).filter((joint) => joint.closed !== undefined);
  return locknuts.map((joint) => joint.id).filter((id) => !absent.includes(id));
}

/** Pieces and seals that a plan takes, seals by the size they fit. */
export function needsOfPlan(plan: Plan): Bag {
  const needs = bagOf(plan.changes.flatMap((change) => change.in));
  for (const { seal, quantity } of plan.joints.flatMap((joint) => joint.seals)) put(needs, `seal ${seal}`, quantity);
  return needs;
}

/** What a plan's kits are taken from. */
export type Shelf = Pick<ConversionJob, 'edition' | 'body' | 'pump' | 'stock' | 'day'>;

/** The kits that can be had, with what each brings under the names of `needsOfPlan`. Costs in tenths. */
export function cratesFor({ edition, body, pump, stock, day }: Shelf): Crate[] {
  return edition.kits
    .filter((kit) => kit.bodies.includes(body) && kit.retired !== true)
    .filter(({ withdrawnFrom }) => withdrawnFrom === null || day === undefined || day < withdrawnFrom)
    .map((kit) => ({
      part: kit.part,
      cost: kit.cost === undefined ? null : Math.round(kit.cost * 10),
      brings: namedAsNeeded(edition, kit.contents, pump?.fluid ?? null),
      atMost: stock === undefined ? Number.POSITIVE_INFINITY : (stock[kit.part] ?? 0),
    }));
}

/** A seal serves where one of its size is needed, if it stands the fluid. */
export function namedAsNeeded(edition: ConversionJob['edition'], pieces: readonly Piece[], fluid: string | null): Bag {
  const bag: Bag = new Map();
  for (const { element, quantity } of pieces) {
    const { fits, fluids } = elementById(edition, element) ?? {};
    const stands = fluid === null || fluids === undefined || fluids.includes(fluid);
    put(bag, fits !== undefined && stands ? `seal ${fits}` : element, quantity);
  }
  return bag;
}
