/** The kits that a plan takes, against every useful bag of up to ten kits. The oracle shares no code with the planner. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { anyJob } from '../../support/bench/arbitrary-job.ts';
import { bagOfNeeds, bestCover, type Cover, uncovered } from '../../support/bench/best-cover.ts';
import { cratesFor, doPlan, namedAsNeeded, needsOfPlan, planOf, toBeClosed } from '../../support/bench/expected.ts';
import { type Bag, put, shown, total } from '../../support/bench/pieces.ts';

const runs = { numRuns: 500 };
/** Trying everything takes too long beyond. */
const mostPieces = 12;

describe('the kits of a plan', () => {
  it('are the best cover: fewest pieces loose, fewest kits of unknown cost, least cost, fewest kits, then first by part number', () => {
    fc.assert(
      fc.property(anyJob, ({ job }) => {
        const plan = planOf(job);
        const needs = needsOfPlan(plan);
        fc.pre(total(needs) <= mostPieces);
        const crates = cratesFor(job);
        const parts = plan.cover.kits.flatMap(({ part, quantity }) => Array<string>(quantity).fill(part)).sort();
        const taken = parts.map((part) => crates.find((crate) => crate.part === part));
        const cover: Cover = {
          parts,
          loose: uncovered(needs, together(taken.map((crate) => crate?.brings ?? new Map()))),
          unknown: taken.filter((crate) => crate?.cost === null).length,
          cost: taken.reduce((sum, crate) => sum + (crate?.cost ?? 0), 0),
        };
        expect(cover).toEqual(bestCover(needs, crates));
        // Crates cost tenths.
        expect(plan.cover.cost).toBe(cover.unknown > 0 ? null : cover.cost / 10);
      }),
      runs,
    );
  });

  it('and what is loose are what the bench takes; what is over is what they bring besides', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const { edition, pump } = made.job;
        const plan = planOf(made.job);
        const bench = doPlan(made, plan);
        const fluid = pump?.fluid ?? null;
        const brought = plan.cover.kits.map(({ part, quantity }) => {
          const kit = edition.kits.find((each) => each.part === part);
          const all = kit?.contents.map((held) => ({ ...held, quantity: held.quantity * quantity })) ?? [];
          return namedAsNeeded(edition, all, fluid);
        });
        const used = together([...brought, bagOfNeeds(plan.cover.loose)]);
        for (const [name, quantity] of namedAsNeeded(edition, plan.cover.leftOver, fluid)) put(used, name, -quantity);
        const taken = namedAsNeeded(edition, bench.newParts(), fluid);
        for (const joint of toBeClosed(made, bench)) {
          for (const { seal, quantity } of made.layout.joints.get(joint)?.seals ?? [])
            put(taken, `seal ${seal}`, quantity);
        }
        expect(shown(used)).toBe(shown(taken));
      }),
      runs,
    );
  });

  it('are never more than there are on the shelf, and none for another body', () => {
    fc.assert(
      fc.property(anyJob, ({ job }) => {
        for (const { part, quantity } of planOf(job).cover.kits) {
          expect(quantity).toBeGreaterThan(0);
          if (job.stock !== undefined) expect(quantity).toBeLessThanOrEqual(job.stock[part] ?? 0);
          expect(job.edition.kits.find((kit) => kit.part === part)?.bodies).toContain(job.body);
        }
      }),
      runs,
    );
  });
});

function together(bags: readonly Bag[]): Bag {
  const all: Bag = new Map();
  for (const bag of bags) for (const [name, quantity] of bag) put(all, name, quantity);
  return all;
}
