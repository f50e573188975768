/**
 * A control converted on the shelf and then mounted ends as one converted on the pump, and nothing is forgotten
 * between the two: what the conversion on the pump demands, the two plans demand together. Beside that they demand
 * the mounting itself, and every setting of the function, as every mounting does.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Fit } from '../../../src/core/fit/fit.ts';
import type { Plan } from '../../../src/core/fit/plan.ts';
import { planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { planMounting } from '../../../src/core/fit/plan-mounting.ts';
import { bodyId, size } from '../../support/bench/arbitrary-edition.ts';
import { anyJob, type BenchJob } from '../../support/bench/arbitrary-job.ts';
import {
  doPlan,
  errandOf,
  isTurned,
  knownAt,
  listedSettings,
  locknutsAt,
  needsOfPlan,
  planned,
  targetsOf,
} from '../../support/bench/expected.ts';
import { isOnPump, type Layout, layoutOf } from '../../support/bench/layout.ts';
import { type Bag, type Piece, put, shown } from '../../support/bench/pieces.ts';
import { disturbance } from '../../support/bench/ways-in.ts';

const runs = { numRuns: 400 };

describe('a control converted on the shelf and then mounted', () => {
  it('holds in the end what one converted on the pump holds, and so does the pump', () => {
    fc.assert(
      fc.property(onPump, (made) => {
        const { straight, shelf, mounting } = bothWays(made);
        const first = doPlan({ layout: shelfLayout(made), truth: made.truth }, shelf);
        const mounted = doPlan({ layout: made.layout, truth: truthAfter(made, first) }, mounting, {
          apart: true,
          loose: shelf.afterMounting.joints,
        });
        const converted = doPlan(made, straight);
        for (const station of made.layout.stations.keys()) {
          expect(shown(mounted.contentOf(station)), station).toBe(shown(converted.contentOf(station)));
        }
        const lost = new Set(mounted.lostSettings());
        expect(listedSettings(made).filter((id) => lost.has(id))).toEqual([]);
      }),
      runs,
    );
  });

  it('is changed at the same stations, in the same way, with the same parts', () => {
    fc.assert(
      fc.property(onPump, (made) => {
        const { straight, shelf, mounting } = bothWays(made);
        const byStation = (changes: Plan['changes']) =>
          changes.toSorted((one, other) => (one.station < other.station ? -1 : 1));
        expect(byStation([...shelf.changes, ...mounting.changes])).toEqual(byStation(straight.changes));
        expect(shown(partsOf([shelf, mounting]))).toBe(shown(partsOf([straight])));
      }),
      runs,
    );
  });

  it('is broken at no fewer joints; at as many, where no way leads from control to pump or back', () => {
    fc.assert(
      fc.property(onPump, (made) => {
        const { straight, shelf, mounting } = bothWays(made);
        const opened = [...shelf.opened, ...mounting.opened];
        const broken = (set: readonly string[]) => disturbance(made.layout, new Set(set), errandOf(made)).joints;
        expect(broken(opened)).toBeGreaterThanOrEqual(broken(straight.opened));
        if (!isApart(made.layout)) return;
        expect(broken(opened)).toBe(broken(straight.opened));
        // Of two ways that break as much, which disturbs less may turn on a setting that the pump disturbs anyway.
        if (`${sorted(opened)}` !== `${sorted(straight.opened)}`) return;
        const besides = [...made.layout.mounting.keys(), ...locknutsOf(made)];
        const both = (list: 'torques' | 'seals') =>
          sorted([...shelf.evidence[list], ...mounting.evidence[list]].filter((id) => !besides.includes(id)));
        const alone = (list: 'torques' | 'seals') =>
          sorted(straight.evidence[list].filter((id) => !besides.includes(id)));
        expect(both('torques')).toEqual(alone('torques'));
        expect(both('seals')).toEqual(alone('seals'));
        const closed = new Set([...shelf.evidence.torques, ...mounting.evidence.torques]);
        expect(besides.filter((id) => !closed.has(id))).toEqual([]);
        expect(straight.evidence.torques.filter((id) => !closed.has(id))).toEqual([]);
      }),
      runs,
    );
  });

  it('is asked, once mounted, for all that the work on the shelf left to come', () => {
    fc.assert(
      fc.property(onPump, (made) => {
        const { straight, shelf, mounting } = bothWays(made);
        const { evidence } = mounting;
        expect(shelf.evidence.settings).toEqual([]);
        expect(evidence.settings).toEqual(listedSettings(made));
        const missing = (asked: readonly string[], given: readonly string[]) =>
          asked.filter((id) => !given.includes(id));
        expect(missing(shelf.afterMounting.settings, evidence.settings)).toEqual([]);
        expect(missing(shelf.afterMounting.joints, evidence.torques)).toEqual([]);
        expect(missing(shelf.afterMounting.checks, evidence.checks)).toEqual([]);
        expect(missing(straight.evidence.settings, evidence.settings)).toEqual([]);
        const wasWorkedOn = made.functionChanges || shelf.opened.length > 0;
        if (wasWorkedOn) {
          const checks = [...shelf.evidence.checks, ...evidence.checks];
          expect(missing(straight.evidence.checks, checks)).toEqual([]);
        }
      }),
      runs,
    );
  });
});

/** On the pump; the pump's own stations as the first element listed has them, for a mounting leaves no choice there. */
const onPump = anyJob
  .filter((made) => made.onPump)
  .map((made): BenchJob => {
    const choices = Object.fromEntries(Object.entries(made.choices).filter(([station]) => !isOnPump(station)));
    return { ...made, choices, job: { ...made.job, choices } };
  })
  .filter((made) => !('refused' in planMounting(mountingOf(made))));

function bothWays(made: BenchJob): { straight: Plan; shelf: Plan; mounting: Plan } {
  return {
    straight: planned(planConversion(made.job)),
    shelf: planned(planConversion(shelfJobOf(made))),
    mounting: planned(planMounting(mountingOf(made))),
  };
}

function shelfJobOf({ job }: BenchJob) {
  const fit = Object.fromEntries(Object.entries(job.fit).filter(([station]) => !isOnPump(station)));
  return { ...job, pump: null, builtFor: builtForOf(job), fit, settings: {} };
}

/** What is known after the conversion: what it put in, and what was known and left. */
function mountingOf(made: BenchJob) {
  const { job } = made;
  if (job.pump === null) throw new Error('the job is on the shelf');
  const targets = targetsOf(made);
  const fit: Fit = Object.fromEntries(
    [...made.layout.stations.keys()].flatMap((id): [string, Fit[string]][] => {
      if (isOnPump(id)) return job.fit[id] === undefined ? [] : [[id, job.fit[id]]];
      const elements = targets.get(id) ?? knownAt(made, id).elements;
      return [[id, { elements, basis: elements === null ? 'unknown' : 'seen' }]];
    }),
  );
  const { edition, body, pump, to } = job;
  return { edition, body, pump, fit, builtFor: builtForOf(job), function: to };
}

function builtForOf({ pump }: BenchJob['job']) {
  return { size, ...(pump && { rotation: pump.rotation }) };
}

function shelfLayout({ edition }: BenchJob): Layout {
  return layoutOf(edition, bodyId, null);
}

function truthAfter(made: BenchJob, first: ReturnType<typeof doPlan>): Record<string, readonly Piece[]> {
  return Object.fromEntries(
    [...made.layout.stations.keys()].map((id) => [id, isOnPump(id) ? (made.truth[id] ?? []) : first.contentOf(id)]),
  );
}

/** The locknuts of all that the function has set: a mounting closes each, whatever was opened. */
function locknutsOf(made: BenchJob): string[] {
  const turned = listedSettings(made).filter((id) => isTurned(made, id));
  const set = turned.map((id) => made.layout.settings.get(id)?.station ?? '');
  return [...new Set(set)].flatMap((station) => locknutsAt(made, station));
}

function isApart(layout: Layout): boolean {
  return [...layout.stations.values()].every(({ id, access = [] }) =>
    access.flat().every((through) => isOnPump(through) === isOnPump(id)),
  );
}

function partsOf(plans: readonly Plan[]): Bag {
  const parts: Bag = new Map();
  for (const plan of plans) {
    for (const [name, quantity] of needsOfPlan(plan)) if (!name.startsWith('seal ')) put(parts, name, quantity);
  }
  return parts;
}

function sorted(list: readonly string[]): string[] {
  return [...new Set(list)].sort();
}
