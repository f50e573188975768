/** Controls that shall go on a pump, with what is known of both, on made-up catalogues. */
import fc from 'fast-check';
import type { Fit } from '../../../src/core/fit/fit.ts';
import type { MountingJob } from '../../../src/core/fit/plan-mounting.ts';
import {
  arbitraryEdition,
  bodyId,
  fluids,
  functionIds,
  otherSize,
  rotations,
  series,
  size,
} from './arbitrary-edition.ts';
import { demandsFor, functionNamed, knownAs, piecesThatGoIn, shelf, shelfOf, stations } from './arbitrary-job.ts';
import { describeJob } from './describe-job.ts';
import { isOnPump, layoutOf } from './layout.ts';
import { type Piece, wanted } from './pieces.ts';
import type { Task } from './task.ts';

/**
 * `truth` is what really sits in control and pump, `loose` the locknuts of the control that were left open: they wait
 * for a setting of the function.
 */
export type BenchMounting = Task & {
  job: MountingJob;
  truth: Record<string, readonly Piece[]>;
  loose: readonly string[];
  [fc.toStringMethod]?: () => string;
};

const draw = fc.record({
  edition: arbitraryEdition,
  to: fc.constantFrom(...functionIds),
  rotation: fc.constantFrom(...rotations),
  fluid: fc.option(fc.constantFrom(...fluids)),
  stations,
  /** What the control is built for; mostly right. */
  size: fc.constantFrom(undefined, size, size, size),
  turns: fc.constantFrom(undefined, 'the same', 'the same'),
  isLoose: fc.array(fc.boolean(), { minLength: 8, maxLength: 8 }),
  shelf,
});
const misfit = fc.record({
  size: fc.constantFrom(undefined, undefined, otherSize),
  turns: fc.constantFrom(undefined, undefined, 'the other way'),
  pumpSize: fc.constantFrom(size, size, otherSize),
  hasFunction: fc.constantFrom(true, true, false),
  /** Whether the control may hold anything at all. */
  isModified: fc.boolean(),
});
type Draw = typeof draw extends fc.Arbitrary<infer Value> ? Value : never;
type Misfit = typeof misfit extends fc.Arbitrary<infer Value> ? Value : never;

/** A control with its function, as far as is known, for a pump that it fits. */
export const goodMounting: fc.Arbitrary<BenchMounting> = draw.map((drawn) =>
  benchMounting(drawn, { size: undefined, turns: undefined, pumpSize: size, hasFunction: true, isModified: false }),
);

/** Any control for any pump. */
export const anyMounting: fc.Arbitrary<BenchMounting> = fc.tuple(draw, misfit).map((both) => benchMounting(...both));

function benchMounting(drawn: Draw, wrong: Misfit): BenchMounting {
  const { edition, rotation } = drawn;
  const layout = layoutOf(edition, bodyId, { series, size: wrong.pumpSize });
  const demanded = demandsFor(edition, drawn.to, rotation);
  const truth: Record<string, readonly Piece[]> = {};
  const fit: Record<string, Fit[string]> = {};
  for (const [index, place] of [...layout.stations.keys()].entries()) {
    const { like, picks, basis } = drawn.stations[index] ?? { like: 0, picks: [], basis: 'seen' };
    const demand = demanded[place] ?? 'keep';
    const chosen = Array.isArray(demand) ? demand[(picks[0] ?? 0) % demand.length] : undefined;
    const isRight = isOnPump(place) ? like < 3 : like < 7 || !wrong.isModified;
    const most = layout.stations.get(place)?.most ?? 0;
    const anything = piecesThatGoIn(layout, place, picks);
    const right = isRight ? wanted(anything, demand, typeof chosen === 'string' ? chosen : undefined, most) : null;
    const content = right ?? anything;
    truth[place] = content;
    Object.assign(fit, { [place]: knownAs(content, basis, picks) });
  }
  const other = rotations.find((each) => each !== rotation) ?? rotation;
  const turns = wrong.turns === undefined ? drawn.turns && rotation : other;
  const builtSize = wrong.size ?? drawn.size;
  const job: MountingJob = {
    ...{ edition, body: bodyId, fit, function: wrong.hasFunction ? drawn.to : null },
    builtFor: { ...(builtSize && { size: builtSize }), ...(turns && { rotation: turns }) },
    pump: { series, size: wrong.pumpSize, rotation, fluid: drawn.fluid },
    ...shelfOf(edition, drawn.shelf),
  };
  const fun = functionNamed(edition, drawn.to);
  const set = fun.settings
    .map(({ setting }) => layout.settings.get(setting))
    .flatMap((one) => (one === undefined || one.adjusted === false ? [] : [one.station]));
  const locknuts = [...layout.joints.values()].filter(
    ({ id, closed, station }) => closed !== undefined && !isOnPump(id) && set.includes(station),
  );
  const loose = locknuts.map((joint) => joint.id).filter((_, nth) => drawn.isLoose[nth]);
  const task: Task = {
    ...{ edition, layout, fit, choices: {}, settings: {}, functionChanges: true, onPump: true },
    fun,
    demands: Object.fromEntries(Object.entries(demanded).filter(([place]) => isOnPump(place))),
  };
  const shownFor = { ...task, demands: demanded };
  return { ...task, job, truth, loose, [fc.toStringMethod]: () => describeJob(shownFor, job, truth) };
}
