/**
 * Every control of every edition, put on every pump that it goes on, whatever function the pump had before: done on a
 * bench that shares no code with the planner, the pump ends with what the function demands, closed, set and tested.
 */
import { describe, expect, it } from 'vitest';
import { type Demand, type Edition, rotation } from '../../../src/core/catalogue/edition.ts';
import type { Fit } from '../../../src/core/fit/fit.ts';
import { type MountingJob, planMounting } from '../../../src/core/fit/plan-mounting.ts';
import { doPlan, planned } from '../../support/bench/expected.ts';
import { isAbsent, isOnPump, type Layout, layoutOf } from '../../support/bench/layout.ts';
import { bagOf, meets, type Piece, shown } from '../../support/bench/pieces.ts';
import { contentsFor, offeredIn, publishedEditions, situationsIn } from '../../support/bench/published.ts';

describe.each(publishedEditions())('every mounting of $name', ({ edition }) => {
  const situations = situationsIn(edition).flatMap((each) =>
    each.pump === null ? [] : [{ ...each, pump: each.pump }],
  );

  it('gives the pump what the function demands, mounts, sets and tests the control, and leaves it as it was', () => {
    let plans = 0;
    for (const situation of situations) {
      const { body, pump, builtFor } = situation;
      const layout = layoutOf(edition, body, pump);
      const offered = offeredIn(edition, situation);
      for (const [name, demands] of offered) {
        for (const [, before] of offered) {
          for (const which of ['first', 'last'] as const) {
            const truth = both(contentsFor(layout, demands, which), contentsFor(layout, before, which));
            const job = { edition, body, pump, builtFor, fit: seen(truth), function: name };
            const where = `${name} of ${body} on ${JSON.stringify(pump)}`;
            checkMounting(job, layout, truth, demands, where);
            plans++;
          }
        }
      }
    }
    expect(plans).toBeGreaterThan(0);
  });

  it('is refused for a pump of another size or rotation, and one that the body does not go on', () => {
    for (const situation of situations) {
      const { body, pump, builtFor } = situation;
      for (const name of offeredIn(edition, situation).keys()) {
        const job = { edition, body, pump, builtFor, fit: {}, function: name };
        for (const turns of rotation.options.filter((one) => one !== pump.rotation)) {
          expect(planMounting({ ...job, pump: { ...pump, rotation: turns } })).toEqual({
            refused: `the control is built for ${pump.rotation} rotation, the pump turns ${turns}`,
            offered: [],
          });
        }
        for (const { series, size } of sizesOf(edition)) {
          const other = planMounting({ ...job, builtFor: {}, pump: { ...pump, series, size: size.id } });
          if (!size.bodies.includes(body))
            expect(other).toMatchObject({ refused: expect.stringContaining("n't go on") });
          if (size.id === pump.size) continue;
          expect(planMounting({ ...job, pump: { ...pump, series, size: size.id } })).toEqual({
            refused: `the control is built for size ${pump.size}, the pump is size ${size.id}`,
            offered: [],
          });
        }
      }
    }
  });
});

function checkMounting(
  job: MountingJob & { readonly function: string },
  layout: Layout,
  truth: Readonly<Record<string, readonly Piece[]>>,
  demands: Readonly<Record<string, Demand>>,
  where: string,
): void {
  const plan = planned(planMounting(job));
  const fun = job.edition.functions.find((each) => each.id === job.function && each.body === job.body);
  const listed = [...layout.settings.values()].filter(({ id }) => fun?.settings.some((one) => one.setting === id));
  const stations = listed.filter((one) => one.adjusted !== false).map((one) => one.station);
  const locknuts = [...layout.joints.values()].filter(
    (one) =>
      one.closed && stations.includes(one.station) && !isAbsent(layout, one, bagOf(truth[one.station] ?? []).keys()),
  );
  const loose = locknuts.map((one) => one.id).filter((id) => !isOnPump(id));
  for (const left of [[], loose]) {
    const bench = doPlan({ layout, truth }, plan, { apart: true, loose: left });
    const ends = [...layout.stations.keys()].map((id) => [id, bench.contentOf(id)] as const);
    const wrong = ends.filter(([id, content]) =>
      isOnPump(id) ? !meets(content, demands[id] ?? 'keep') : shown(content) !== shown(truth[id] ?? []),
    );
    expect(wrong, where).toEqual([]);
    const lost = bench.lostSettings();
    expect(
      listed.filter(({ id }) => lost.includes(id)),
      where,
    ).toEqual([]);
  }
  const ranked = listed.toSorted((one, other) => one.rank - other.rank);
  const required = job.edition.checks.filter((check) => check.requiredBy.includes('mounting'));
  expect(plan.evidence, where).toMatchObject({
    settings: ranked.map((one) => one.id),
    checks: required.map((check) => check.id),
    torques: expect.arrayContaining([...layout.mounting.keys(), ...locknuts.map((one) => one.id)]),
  });
}

/** The control from one list of contents, the pump from another. */
function both(control: ReturnType<typeof contentsFor>, pump: ReturnType<typeof contentsFor>) {
  const mine = ([id]: [string, unknown]) => !isOnPump(id);
  const its = ([id]: [string, unknown]) => isOnPump(id);
  return Object.fromEntries([...Object.entries(control).filter(mine), ...Object.entries(pump).filter(its)]);
}

function seen(contents: Readonly<Record<string, readonly Piece[]>>): Fit {
  return Object.fromEntries(
    Object.entries(contents).map(([id, elements]) => [id, { elements, basis: 'seen' as const }]),
  );
}

function sizesOf(edition: Edition) {
  return edition.series.flatMap(({ id: series, sizes }) => sizes.map((size) => ({ series, size })));
}
