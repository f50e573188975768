/** A run beside an earlier one of another size: how much longer single answers take. */
import { type Result, resultOf } from './figures.ts';

export type Run = {
  readonly records: number;
  readonly seed: number;
  readonly quick: boolean;
  readonly results: readonly Result[];
};

/** One result for each row whose answers were timed in both. Not interleaved: the machine may have drifted between. */
export function growthOf(now: Run, earlier: Run): Result[] {
  if (now.records === earlier.records) throw new RangeError(`both runs are of ${now.records} records`);
  return now.results.flatMap((result) => {
    const before = earlier.results.find(({ name }) => name === result.name);
    if (!result.p99 || !before?.p99) return [];
    const figure = (value: number) => ({ value });
    const grown = resultOf(
      {
        name: `${result.name}-grown`,
        claim: `${result.claim}: p99 at ${now.records} records`,
        comparator: `itself at ${earlier.records}`,
        ...{ unit: 'ms', better: 'less', gate: 1.5, goal: 1.2 },
      },
      [{ ours: figure(result.p99.median), theirs: figure(before.p99.median) }],
    );
    return [{ ...grown, ours: result.p99, theirs: before.p99 }];
  });
}
