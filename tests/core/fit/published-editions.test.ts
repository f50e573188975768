/**
 * A catalogue that nobody here has seen can be published, and its plans are right for every pair of functions: done
 * on a bench that shares no code with the planner, each gives the pattern. Editions are found by listing the folders.
 */
import { describe, expect, it } from 'vitest';
import type { Demand, Edition } from '../../../src/core/catalogue/edition.ts';
import type { Fit } from '../../../src/core/fit/fit.ts';
import { type ConversionJob, planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { doPlan } from '../../support/bench/expected.ts';
import { type Layout, layoutOf } from '../../support/bench/layout.ts';
import { meets } from '../../support/bench/pieces.ts';
import {
  contentsFor,
  offeredIn,
  publishedEditions,
  type Setting,
  situationsIn,
} from '../../support/bench/published.ts';

type Known = 'seen' | 'assumed' | 'unknown';
const starts = [
  ['first', 'seen'],
  ['last', 'seen'],
  ['last', 'assumed'],
  ['first', 'unknown'],
] as const;

describe.each(publishedEditions())('every plan of $name', ({ edition }) => {
  const situations = situationsIn(edition);

  it('gives the function its pattern, from every function to every other, and nothing to do from it to itself', () => {
    let plans = 0;
    for (const situation of situations) {
      const layout = layoutOf(edition, situation.body, situation.pump);
      const offered = offeredIn(edition, situation);
      for (const [from, start] of offered) {
        for (const [to, demands] of offered) {
          for (const [which, known] of starts) {
            const truth = contentsFor(layout, start, which);
            const job: ConversionJob = { ...jobIn(edition, situation), fit: fitOf(truth, known), from, to };
            checkPlan(job, known, layout, truth, demands);
            plans++;
          }
        }
      }
    }
    expect(plans).toBeGreaterThan(0);
  });

  it('is refused exactly where the body, size or rotation can not have the function', () => {
    for (const situation of situations) {
      const offered = offeredIn(edition, situation);
      for (const { id: to } of edition.functions.filter((fun) => fun.body === situation.body)) {
        const plan = planConversion({ ...jobIn(edition, situation), fit: {}, from: null, to });
        expect('refused' in plan, `${to} on ${JSON.stringify(situation)}`).toBe(!offered.has(to));
        if ('refused' in plan) expect(plan.offered).toEqual([...offered.keys()]);
      }
    }
  });
});

function checkPlan(
  job: ConversionJob,
  known: Known,
  layout: Layout,
  truth: ReturnType<typeof contentsFor>,
  demands: Readonly<Record<string, Demand>>,
): void {
  const where = `${job.from} to ${job.to} of ${job.body}, ${JSON.stringify(job.pump ?? job.builtFor)}`;
  const plan = planConversion(job);
  if ('refused' in plan) throw new Error(`${where}: ${plan.refused}`);
  try {
    const bench = doPlan({ layout, truth }, plan);
    const wrong = [...layout.stations.keys()].filter((id) => !meets(bench.contentOf(id), demands[id] ?? 'keep'));
    expect(wrong).toEqual([]);
  } catch (error) {
    throw new Error(`${where}: ${error instanceof Error ? error.message : error}`);
  }
  const nothingToDo = job.from === job.to && known === 'seen';
  if (nothingToDo) expect([plan.changes, plan.opened, plan.joints, plan.steps], where).toEqual([[], [], [], []]);
}

function jobIn(edition: Edition, { body, pump, builtFor }: Setting) {
  return { edition, body, pump, builtFor, settings: {}, choices: {} };
}

function fitOf(truth: ReturnType<typeof contentsFor>, known: Known): Fit {
  if (known === 'unknown') return {};
  return Object.fromEntries(Object.entries(truth).map(([id, elements]) => [id, { elements, basis: known }]));
}
