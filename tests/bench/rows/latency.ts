/** p99 at 70 % of the rate that we reach, beside the bare loop's at 70 % of its own. */
import type { Ground } from '../ground/ground.ts';
import type { Row } from '../harness/row.ts';
import { p99Of, rateOf } from '../load/load.ts';
import { askers, eachOf } from './recording/sides.ts';

const share = 0.7;

export const latency: Row<Ground> = {
  name: 'latency',
  claim: 'p99 of recording at 70 % of that rate',
  comparator: "the bare loop's at 70 % of its own",
  unit: 'ms',
  better: 'less',
  gate: 2.0,
  goal: 1.2,
  prepare: async (ground) => {
    const { ours, theirs } = await askers(ground, 'many', 'bare loop');
    const { round, before } = eachOf(ground);
    await ours(before, null);
    await theirs(before, null);
    const [ourRate, theirRate] = [rateOf(await ours(round, null)), rateOf(await theirs(round, null))];
    return {
      ours: async () => p99Of(await ours(round, share * ourRate.value)),
      theirs: async () => p99Of(await theirs(round, share * theirRate.value)),
    };
  },
};
