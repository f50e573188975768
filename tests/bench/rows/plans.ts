/** Plans per second (core/fit, 12 stations, 8 kits, exact cover), beside trying everything. */
import { planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { planned } from '../../support/bench/expected.ts';
import type { Row } from '../harness/row.ts';
import { timesASecond } from '../harness/times.ts';
import { slowPlan } from '../peers/slow-plan.ts';
import { job } from '../scenes/twelve-stations.ts';

export const plans: Row<unknown> = {
  name: 'plans',
  claim: 'plans per second: 12 stations, 8 kits, exact cover',
  comparator: 'the slow reference of the tests',
  unit: 'plans/s',
  better: 'more',
  gate: 50,
  goal: 200,
  prepare: async () => {
    requireTheSame();
    const ours = () => planned(planConversion(job));
    for (let nth = 0; nth < 200; nth++) ours();
    return {
      ours: async () => ({ value: timesASecond(ours) }),
      theirs: async () => ({ value: timesASecond(() => slowPlan(job)) }),
    };
  },
};

/** A plan that is wrong is no faster. */
export function requireTheSame(): void {
  const plan = planned(planConversion(job));
  const kits = plan.cover.kits.flatMap(({ part, quantity }) => Array<string>(quantity).fill(part));
  const ours = JSON.stringify({ opened: plan.opened.toSorted(), kits: kits.sort() });
  const theirs = JSON.stringify(slowPlan(job));
  if (ours !== theirs) throw new Error(`the plan is ${ours}, the reference says ${theirs}`);
}
