/** What a job must come to, said from the edition and the design alone, to hold a plan against. */
import type { Plan } from '../../../src/core/fit/plan.ts';
import { type ConversionJob, planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { type BenchJob, demandsFor } from './arbitrary-job.ts';
import { type Bench, benchOf } from './bench.ts';
import type { Crate } from './best-cover.ts';
import { elementById } from './layout.ts';
import { type Bag, bagOf, type Piece, put, shown, wanted } from './pieces.ts';
import { runSteps } from './run-steps.ts';
import type { Errand } from './ways-in.ts';

export function rotationOf(job: ConversionJob) {
  return (job.pump?.rotation ?? job.builtFor.rotation) as 'clockwise' | 'counterclockwise';
}

/** The job's content of a station as far as it is known, and whether somebody has seen it; what accepts nothing is empty. */
export function knownAt(job: ConversionJob, station: string): { elements: readonly Piece[] | null; sure: boolean } {
  const listed = job.edition.bodies.flatMap((body) => body.stations).find((each) => each.id === station);
  if (listed?.accepts.length === 0) return { elements: [], sure: true };
  const { elements = null, basis = 'unknown' } = job.fit[station] ?? {};
  return { elements, sure: basis !== 'assumed' && basis !== 'unknown' };
}

/** What must sit at each station in the end; null where that is whatever sits there. */
export function targetsOf({ job, layout }: BenchJob): Map<string, readonly Piece[] | null> {
  const demands = demandsFor(job.edition, job.to, rotationOf(job));
  return new Map(
    [...layout.stations.keys()].map((id) => {
      const demand = demands[id] ?? 'keep';
      return [id, demand === 'keep' ? null : wanted(knownAt(job, id).elements, demand, job.choices[id])];
    }),
  );
}

/** Stations to change, and those that are right only if an assumption is: they are looked at. */
export function errandOf(made: BenchJob): Errand {
  const [changed, looked]: [string[], string[]] = [[], []];
  for (const [id, target] of targetsOf(made)) {
    const { elements, sure } = knownAt(made.job, id);
    if (target === null) continue;
    if (elements === null || shown(elements) !== shown(target)) changed.push(id);
    else if (!sure) looked.push(id);
  }
  return { changed, looked };
}

/** Limits in made-up editions are whole numbers of bar. */
export function isWithinLimits(job: ConversionJob, setting: string): boolean {
  const { min, max } = limitsOf(job, setting);
  const known = Number(job.settings[setting]?.value ?? Number.NaN);
  return known >= min && known <= max;
}

export function limitsOf(job: ConversionJob, setting: string): { min: number; max: number } {
  const listed = functionOf(job)?.settings.find((each) => each.setting === setting);
  const highest = job.edition.series[0]?.sizes[0]?.highestSetting.value;
  const size = job.pump === null ? Number.POSITIVE_INFINITY : Number(highest);
  return { min: Number(listed?.min?.value), max: Math.min(Number(listed?.max?.value), size) };
}

export function listedSettings(job: ConversionJob): string[] {
  return functionOf(job)?.settings.map((each) => each.setting) ?? [];
}

/** What must be set: what lies at an opened station or isn't as needed, if the function lists it; by rank. */
export function settingsToMake({ job, layout }: BenchJob, opened: readonly string[]): string[] {
  const listed = listedSettings(job);
  return [...layout.settings.values()]
    .filter(({ id }) => listed.includes(id))
    .filter(({ id, station }) => opened.includes(station) || (job.from !== job.to && !isWithinLimits(job, id)))
    .toSorted((one, other) => one.rank - other.rank)
    .map(({ id }) => id);
}

export function planOf(job: ConversionJob): Plan {
  const plan = planConversion(job);
  if ('refused' in plan) throw new Error(`refused: ${plan.refused}`);
  return plan;
}

/** Does the plan on a bench with what really sits in the control, to the end. */
export function doPlan({ layout, truth }: Pick<BenchJob, 'layout' | 'truth'>, plan: Plan): Bench {
  const bench = benchOf(layout, truth);
  runSteps(bench, layout, plan.steps);
  bench.finish(
    Object.fromEntries(plan.changes.map((change) => [change.station, change.out])),
    plan.afterMounting.joints,
  );
  return bench;
}

/** Pieces and seals that a plan takes, seals by the size they fit. */
export function needsOfPlan(plan: Plan): Bag {
  const needs = bagOf(plan.changes.flatMap((change) => change.in));
  for (const { seal, quantity } of plan.joints.flatMap((joint) => joint.seals)) put(needs, `seal ${seal}`, quantity);
  return needs;
}

/** The kits that can be had, with what each brings under the names of `needsOfPlan`. */
export function cratesFor({ edition, body, pump, stock }: ConversionJob): Crate[] {
  return edition.kits
    .filter((kit) => kit.bodies.includes(body) && kit.retired !== true)
    .map((kit) => ({
      part: kit.part,
      cost: kit.cost,
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

function functionOf(job: ConversionJob) {
  return job.edition.functions.find((each) => each.id === job.to && each.body === job.body);
}
