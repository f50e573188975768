/** Jobs on made-up catalogues: a control as it is found, what is known of that, and what it shall become. */
import fc from 'fast-check';
import type { Edition, Fun } from '../../../src/core/catalogue/edition.ts';
import type { Basis, Content, Fit } from '../../../src/core/fit/fit.ts';
import type { ConversionJob } from '../../../src/core/fit/plan-conversion.ts';
import { arbitraryEdition, bodyId, fluids, functionIds, rotations, series, size } from './arbitrary-edition.ts';
import { describeJob } from './describe-job.ts';
import { demandsOf, type Layout, layoutOf } from './layout.ts';
import { bagOf, type Piece, wanted } from './pieces.ts';
import type { Task } from './task.ts';

/** `truth` is what really sits in the control; the job's fit says as much of it as is known. */
export type BenchJob = Task & {
  job: ConversionJob;
  truth: Record<string, readonly Piece[]>;
  [fc.toStringMethod]?: () => string;
};

export const station = fc.record({
  /** 0 to 5: as the starting function has it; 6 and 7: anything that goes in. */
  like: fc.integer({ min: 0, max: 7 }),
  picks: fc.array(fc.nat({ max: 5 }), { maxLength: 3 }),
  basis: fc.constantFrom<Basis[]>('seen', 'built', 'plate', 'seen', 'built', 'assumed', 'unknown'),
});
export const stations = fc.array(station, { minLength: 8, maxLength: 8 });
export type StationDraw = { like: number; picks: number[]; basis: Basis };
/** Kits on the shelf, and the day of the work. */
export const shelf = fc.record({
  stock: fc.option(fc.array(fc.integer({ min: 0, max: 2 }), { minLength: 10, maxLength: 10 })),
  day: fc.option(fc.constant('2026-03-14'), { freq: 3 }),
});

const draw = fc.record({
  edition: arbitraryEdition,
  from: fc.constantFrom(...functionIds),
  to: fc.constantFrom(...functionIds),
  declared: fc.boolean(),
  rotation: fc.constantFrom(...rotations),
  offPump: fc.integer({ min: 0, max: 2 }).map((die) => die === 2),
  fluid: fc.option(fc.constantFrom(...fluids)),
  stations,
  settings: fc.array(fc.option(fc.constantFrom('10', '60', '100', '200')), { minLength: 8, maxLength: 8 }),
  shelf,
  choices: fc.array(fc.option(fc.nat({ max: 2 }), { freq: 2 }), { minLength: 8, maxLength: 8 }),
});
type Draw = typeof draw extends fc.Arbitrary<infer Value> ? Value : never;

/** Any start: like a function, like none, partly assumed or unknown, some stations not mentioned at all. */
export const anyJob: fc.Arbitrary<BenchJob> = draw.map((drawn) => benchJob(drawn, drawn.stations));

/** A start that somebody has seen, station by station. */
export const knownJob: fc.Arbitrary<BenchJob> = draw.map((drawn) =>
  benchJob(
    drawn,
    drawn.stations.map((each) => ({ ...each, basis: 'seen' })),
  ),
);

/** A start that is a function to the letter, seen and set. */
export const functionJob: fc.Arbitrary<BenchJob> = draw.map((drawn) =>
  benchJob(
    { ...drawn, declared: true },
    drawn.stations.map((each) => ({ ...each, like: 0, basis: 'seen' })),
  ),
);

function benchJob(drawn: Draw, found: readonly StationDraw[]): BenchJob {
  const { edition, rotation, offPump } = drawn;
  const layout = layoutOf(edition, bodyId, offPump ? null : { series, size });
  const places = [...layout.stations.keys()];
  const start = demandsFor(edition, drawn.from, rotation);
  const truth: Record<string, readonly Piece[]> = {};
  const fit: Record<string, Fit[string]> = {};
  for (const [index, place] of places.entries()) {
    const { like, picks, basis } = found[index] ?? { like: 0, picks: [], basis: 'seen' };
    const anything = piecesThatGoIn(layout, place, picks);
    const most = layout.stations.get(place)?.most ?? 0;
    const content = (like < 6 ? wanted(anything, start[place] ?? 'keep', undefined, most) : null) ?? anything;
    truth[place] = content;
    Object.assign(fit, { [place]: knownAs(content, basis, picks) });
  }
  const choices = choicesFor(edition, layout, drawn);
  const job: ConversionJob = {
    edition,
    body: bodyId,
    pump: offPump ? null : { series, size, rotation, fluid: drawn.fluid },
    builtFor: offPump ? { size, rotation } : {},
    fit,
    from: drawn.declared ? drawn.from : null,
    settings: knownSettings(layout, drawn.settings),
    to: drawn.to,
    choices,
    ...shelfOf(edition, drawn.shelf),
  };
  const task: Task = {
    ...{ edition, layout, fit, choices, settings: job.settings, onPump: !offPump },
    fun: functionNamed(edition, drawn.to),
    demands: demandsFor(edition, drawn.to, rotation),
    functionChanges: job.from !== job.to,
  };
  return { ...task, job, truth, [fc.toStringMethod]: () => describeJob(task, job, truth) };
}

/** A station that isn't mentioned is as little known as one that is said to be unknown. */
export function knownAs(content: readonly Piece[], basis: Basis, picks: readonly number[]): Content | undefined {
  if (basis !== 'unknown') return { elements: content, basis };
  return picks.length > 1 ? { elements: null, basis } : undefined;
}

export function shelfOf(edition: Edition, { stock, day }: { stock: number[] | null; day: string | null }) {
  return {
    ...(stock && { stock: Object.fromEntries(edition.kits.map((kit, nth) => [kit.part, stock[nth] ?? 0])) }),
    ...(day !== null && { day }),
  };
}

export function functionNamed(edition: Edition, functionId: string): Fun {
  const fun = edition.functions.find((each) => each.id === functionId && each.body === bodyId);
  if (fun === undefined) throw new Error(`the edition has no function ${functionId}`);
  return fun;
}

export function demandsFor(edition: Edition, functionId: string, rotation: string) {
  return demandsOf(functionNamed(edition, functionId), { rotation, size }) ?? {};
}

export function piecesThatGoIn(layout: Layout, place: string, picks: readonly number[]): Piece[] {
  const { accepts = [], most = 0 } = layout.stations.get(place) ?? {};
  const named = picks.slice(0, most).map((pick) => accepts[pick % accepts.length]);
  const bag = bagOf(named.flatMap((element) => (element === undefined ? [] : [{ element, quantity: 1 }])));
  return [...bag].map(([element, quantity]) => ({ element, quantity }));
}

function knownSettings(layout: Layout, values: readonly (string | null)[]) {
  return Object.fromEntries(
    [...layout.settings.values()].flatMap(({ id, quantity }, nth) => {
      const value = values[nth];
      return value == null ? [] : [[id, { value, unit: quantity === 'pressure' ? 'bar' : 'mA' }]];
    }),
  );
}

function choicesFor(edition: Edition, layout: Layout, drawn: Draw): Record<string, string> {
  const demands = demandsFor(edition, drawn.to, drawn.rotation);
  const chosen = [...layout.stations.keys()].flatMap((place, nth) => {
    const demand = demands[place];
    const pick = drawn.choices[nth];
    if (pick == null || !Array.isArray(demand)) return [];
    const entry = demand[pick % demand.length];
    return typeof entry === 'string' && demand.length > 1 ? [[place, entry]] : [];
  });
  return Object.fromEntries(chosen);
}
