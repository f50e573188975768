/**
 * Properties of every mounting plan, on catalogues that nobody wrote, done on a bench that shares no code with the
 * planner: a control beside its pump, put on it, set and tested.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Plan, Step } from '../../../src/core/fit/plan.ts';
import { planMounting } from '../../../src/core/fit/plan-mounting.ts';
import { anyMounting, type BenchMounting, goodMounting } from '../../support/bench/arbitrary-mounting.ts';
import { bestCover, type Cover, uncovered } from '../../support/bench/best-cover.ts';
import {
  cratesFor,
  doPlan,
  errandOf,
  isTurned,
  knownAt,
  limitsOf,
  listedSettings,
  locknutsAt,
  needsOfPlan,
  planned,
  targetsOf,
  tightest,
} from '../../support/bench/expected.ts';
import { saidMounting } from '../../support/bench/in-english.ts';
import { demandsOf, disturbedAt, isOnPump, pumpAlone } from '../../support/bench/layout.ts';
import { bagOf, meets, put, shown, total } from '../../support/bench/pieces.ts';
import { allows, bestWaysIn, disturbance, openable } from '../../support/bench/ways-in.ts';

const runs = { numRuns: 400 };

/** A control that fits, and what changes on the pump can be reached while the control is off it. */
const reachable = goodMounting.filter(isReachable);

describe('a mounting plan', () => {
  it('is refused, with the reason, exactly for a control that does not belong on the pump', () => {
    const seen = new Set<string>();
    fc.assert(
      fc.property(anyMounting, (made) => {
        const plan = planMounting(made.job);
        const reason = reasonAgainst(made);
        seen.add(reason?.source ?? 'none');
        if (reason === null) expect(plan).not.toHaveProperty('refused');
        else expect(plan).toMatchObject({ refused: expect.stringMatching(reason) });
      }),
      { numRuns: 1000 },
    );
    expect(seen.size, [...seen].join('\n')).toBe(7);
  });
});

describe('a mounting plan done on the bench', () => {
  it('gives the pump what the function demands, and leaves the control as it was', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const bench = doMounting(made, planFor(made));
        for (const [station, target] of targetsOf(made)) {
          expect(shown(bench.contentOf(station)), station).toBe(shown(target ?? made.truth[station] ?? []));
          if (isOnPump(station)) expect(meets(bench.contentOf(station), made.demands[station] ?? 'keep')).toBe(true);
        }
      }),
      runs,
    );
  });

  it('changes exactly the stations of the pump that differ, by what differs', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const plan = planFor(made);
        expect(plan.changes.map((change) => change.station).sort()).toEqual(errandOf(made).changed.toSorted());
        for (const { station, out, in: parts } of plan.changes) {
          expect(isOnPump(station)).toBe(true);
          const { elements } = knownAt(made, station);
          expect(out === null).toBe(elements === null);
          const after = bagOf([...(elements ?? []), ...parts]);
          for (const { element, quantity } of out ?? []) put(after, element, -quantity);
          expect(shown(after)).toBe(shown(targetsOf(made).get(station) ?? []));
        }
      }),
      runs,
    );
  });

  it('never opens the control: of it only locknuts are touched, to set what is set there', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const { opened, steps } = planFor(made);
        expect(opened.filter((station) => !isOnPump(station))).toEqual([]);
        const onControl = steps.filter((step) => step.station !== undefined && !isOnPump(step.station));
        const isSetting = (step: Step) => ['back-off', 'set', 're-read', 'read'].includes(step.action);
        const joints = onControl.filter((step) => !isSetting(step)).map((step) => step.joint ?? step.action);
        expect(joints.filter((id) => made.layout.joints.get(id)?.closed === undefined)).toEqual([]);
      }),
      runs,
    );
  });

  it('opens of the pump what breaks the fewest joints and disturbs the fewest settings, and what comes first', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const { opened } = planFor(made);
        const pump = pumpAlone(made.layout);
        const errand = errandOf(made);
        const [first] = bestWaysIn(pump, errand);
        expect(allows(pump, new Set(opened), errand)).toBe(true);
        expect(disturbance(pump, new Set(opened), errand)).toEqual({
          ...{ joints: first?.joints, settings: first?.settings, stations: first?.stations },
        });
        expect(opened.toSorted()).toEqual([...(first?.opened ?? [])].sort());
      }),
      runs,
    );
  });

  it('looks at what of the pump is assumed or unknown and must be right, before it is touched', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const { steps, opened } = planFor(made);
        const unsure = [...opened, ...errandOf(made).looked].filter((station) => !knownAt(made, station).sure);
        const looks = steps.filter((step) => step.action === 'look').map((step) => step.station ?? '');
        expect(looks.toSorted()).toEqual([...new Set(unsure)].sort());
        for (const station of looks) {
          const touched = steps.find(({ action, station: at }) => at === station && action !== 'look');
          const look = steps.find((step) => step.action === 'look' && step.station === station);
          expect(look?.step ?? 0, station).toBeLessThan(touched?.step ?? Infinity);
        }
      }),
      runs,
    );
  });

  it('puts the control on once every station is closed, and closes every mounting joint with its screws and seals', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const plan = planFor(made);
        const { steps } = plan;
        const mount = steps.findIndex((step) => step.action === 'mount');
        expect(steps.filter((step) => step.action === 'mount')).toHaveLength(1);
        const mounting = [...made.layout.mounting.keys()];
        const closings = saidMounting(made.job).slice(mount + 1, mount + 1 + mounting.length);
        expect(closings.map((step) => [step.action, step.joint])).toEqual(mounting.map((id) => ['close', id]));
        for (const [id, { count, torque, tool, seals }] of made.layout.mounting) {
          const listed = plan.joints.filter((each) => each.joint === id);
          expect(listed).toEqual([{ joint: id, station: null, count, torque, tool, seals }]);
          const text = closings.find((step) => step.joint === id)?.text ?? '';
          if (count > 1) expect(text).toContain(`${count} × `);
          for (const { seal, quantity } of seals) expect(text).toContain(quantity > 1 ? `${quantity} × ${seal}` : seal);
        }
      }),
      runs,
    );
  });

  it('lists the joints that hands close, as the catalogue has them, and asks for their torques and seals', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const plan = planFor(made);
        const bench = doMounting(made, plan);
        const closed = [...new Set(bench.everClosed())].sort();
        expect(plan.joints.map((each) => each.joint).sort()).toEqual(closed);
        expect(plan.evidence.torques.toSorted()).toEqual(closed);
        const all = new Map([...made.layout.joints, ...made.layout.mounting]);
        const sealed = closed.filter((id) => all.get(id)?.seals.length);
        expect(plan.evidence.seals.toSorted()).toEqual(sealed);
        for (const { joint, station, ...listed } of plan.joints) {
          const { count, torque, tool, seals, closed: when } = all.get(joint) ?? {};
          expect(listed).toEqual({ count, torque, tool, seals, ...(when && { closed: when }) });
          expect(station).toBe(all.get(joint)?.station ?? null);
        }
        expect(plan.afterMounting).toEqual({ settings: [], checks: [], joints: [] });
      }),
      runs,
    );
  });
});

describe('what a mounting plan asks for', () => {
  it('is every setting of the function, by rank, within the tightest bounds', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const { settings, evidence, opened } = planFor(made);
        const disturbed = opened.flatMap((station) => disturbedAt(made.layout, station));
        expect(settings.map((each) => each.setting)).toEqual(listedSettings(made));
        expect(evidence.settings).toEqual(listedSettings(made));
        for (const { setting, min, max, because } of settings) {
          const limits = limitsOf(made, setting);
          expect(Number(min?.value ?? -Infinity)).toBe(tightest(limits).min);
          expect(Number(max?.value ?? Infinity)).toBe(tightest(limits).max);
          expect(because).toBe(disturbed.includes(setting) ? 'disturbed' : 'required');
        }
      }),
      runs,
    );
  });

  it('is set on the mounted control: all backed off first, then each set, locked and read again', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const plan = planFor(made);
        const { steps } = plan;
        const of = (action: Step['action']) => steps.filter((step) => step.action === action);
        const listed = listedSettings(made).filter((setting) => isTurned(made, setting));
        const read = listedSettings(made).filter((setting) => !isTurned(made, setting));
        expect(
          of('read')
            .map((step) => step.setting)
            .sort(),
        ).toEqual(read.toSorted());
        expect(of('set').map((step) => step.setting)).toEqual(listed);
        expect(of('back-off').map((step) => step.setting)).toEqual(listed);
        expect(
          of('re-read')
            .map((step) => step.setting)
            .sort(),
        ).toEqual(listed.toSorted());
        const lastBackOff = of('back-off').at(-1)?.step ?? 0;
        expect(of('set').filter((step) => step.step < lastBackOff)).toEqual([]);
        for (const setting of listed) {
          const station = made.layout.settings.get(setting)?.station ?? '';
          const step = (action: Step['action']) => of(action).find((each) => each.setting === setting)?.step ?? 0;
          for (const id of locknutsAt(made, station)) {
            const lock = of('lock').find((each) => each.joint === id)?.step ?? 0;
            expect(lock).toBeGreaterThan(step('set'));
            expect(lock).toBeLessThan(step('re-read'));
          }
          expect(step('re-read')).toBeGreaterThan(step('set'));
        }
        const lost = doMounting(made, plan).lostSettings();
        expect([...listed, ...read].filter((id) => lost.includes(id))).toEqual([]);
      }),
      runs,
    );
  });

  it('is every check that the edition requires of a mounting; the plate is marked', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const { steps, evidence } = planFor(made);
        const required = made.edition.checks.filter((check) => check.requiredBy.includes('mounting'));
        expect(evidence.checks).toEqual(required.map((check) => check.id));
        const last = steps.slice(-(required.length - 1));
        expect(last.map((step) => [step.action, step.check])).toEqual(
          required
            .filter((check) => check.role !== 'safety')
            .map((check) => [check.role === 'plate' ? 're-mark' : 'check', check.id]),
        );
        expect(steps[0]?.action).toBe('make-safe');
      }),
      runs,
    );
  });

  it('is the tools of the joints that are worked and the best cover of what it takes', () => {
    fc.assert(
      fc.property(reachable, (made) => {
        const plan = planFor(made);
        const bench = doMounting(made, plan);
        const all = new Map([...made.layout.joints, ...made.layout.mounting]);
        const worked = [...bench.everBroken(), ...bench.everClosed()].map((id) => all.get(id)?.tool);
        const named = (each: { drive: string; size: string } | undefined) => `${each?.drive} ${each?.size}`;
        expect(plan.tools.map(named).sort()).toEqual([...new Set(worked.map(named))].sort());
        const needs = needsOfPlan(plan);
        fc.pre(total(needs) <= 12);
        const crates = cratesFor(made.job);
        const parts = plan.cover.kits.flatMap(({ part, quantity }) => Array<string>(quantity).fill(part)).sort();
        const taken = parts.flatMap((part) => crates.filter((crate) => crate.part === part));
        const brought = bagOf(
          taken.flatMap((crate) => [...crate.brings].map(([element, quantity]) => ({ element, quantity }))),
        );
        const cost = taken.reduce((sum, crate) => sum + (crate.cost ?? 0), 0);
        const unknown = taken.filter((crate) => crate.cost === null).length;
        const cover: Cover = { parts, unknown, cost, loose: uncovered(needs, brought) };
        expect(cover).toEqual(bestCover(needs, crates));
      }),
      runs,
    );
  });
});

function planFor({ job }: BenchMounting): Plan {
  return planned(planMounting(job));
}

function doMounting(made: BenchMounting, plan: Plan) {
  return doPlan(made, plan, { apart: true, loose: made.loose });
}

function isReachable(made: BenchMounting): boolean {
  const { changed, looked } = errandOf(made);
  const pump = pumpAlone(made.layout);
  const reached = openable(pump, [...pump.stations.keys()]);
  return [...changed, ...looked].every((id) => reached.has(id));
}

function reasonAgainst(made: BenchMounting): RegExp | null {
  const { builtFor, pump, function: declared } = made.job;
  if (builtFor.size !== undefined && builtFor.size !== pump.size) return /built for size/;
  if (builtFor.rotation !== undefined && builtFor.rotation !== pump.rotation) return /built for .* rotation/;
  if (declared === null) return /matches no function/;
  const sizes = made.edition.series.flatMap((each) => each.sizes);
  if (!sizes.find((each) => each.id === pump.size)?.bodies.includes(made.job.body)) return /doesn't go on size/;
  const demands = demandsOf(made.fun, pump) ?? {};
  const wrong = [...made.layout.stations.keys()].filter((id) => {
    const { elements } = knownAt(made, id);
    return !isOnPump(id) && elements !== null && !meets(elements, demands[id] ?? 'keep');
  });
  if (wrong.length > 0) return /convert the control first/;
  return isReachable(made) ? null : /can't be reached while the control is off its pump/;
}
