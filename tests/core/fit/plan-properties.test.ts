/**
 * Properties of every plan, on catalogues that nobody wrote. The bench and the oracles share no code with the planner;
 * they are written from the physical meaning of access and joints at the head of `edition.ts`.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../src/core/fit/plan.ts';
import { planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { anyJob, type BenchJob, demandsFor, functionJob, knownJob } from '../../support/bench/arbitrary-job.ts';
import {
  absentInTheEnd,
  doPlan,
  errandOf,
  isTurned,
  isWithinLimits,
  knownAt,
  limitsOf,
  listedSettings,
  locknutsAt,
  planOf,
  settingsToMake,
  targetsOf,
  tightest,
  toBeClosed,
} from '../../support/bench/expected.ts';
import { saidConversion } from '../../support/bench/in-english.ts';
import { disturbedAt } from '../../support/bench/layout.ts';
import { bagOf, meets, put, shown } from '../../support/bench/pieces.ts';
import { allows, bestWaysIn, branchesOf, disturbance, jointsBrokenAt } from '../../support/bench/ways-in.ts';

const runs = { numRuns: 400 };

describe('a plan done on the bench', () => {
  it('gives the function its pattern, with every joint closed and everything that was moved aside back', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const bench = doPlan(made, planOf(made.job));
        for (const [station, target] of targetsOf(made)) {
          const content = bench.contentOf(station);
          expect(meets(content, made.demands[station] ?? 'keep'), station).toBe(true);
          expect(shown(content), station).toBe(shown(target ?? made.truth[station] ?? []));
        }
      }),
      runs,
    );
  });

  it('changes exactly the stations that differ, by what differs', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const plan = planOf(made.job);
        expect(plan.changes.map((change) => change.station).sort()).toEqual(errandOf(made).changed.toSorted());
        for (const { station, out, in: parts } of plan.changes) {
          const { elements } = knownAt(made, station);
          const after = bagOf([...(elements ?? []), ...parts]);
          for (const { element, quantity } of out ?? []) put(after, element, -quantity);
          expect(shown(after)).toBe(shown(targetsOf(made).get(station) ?? []));
          expect(out === null).toBe(elements === null);
          expect(out?.filter(({ element }) => parts.some((part) => part.element === element)) ?? []).toEqual([]);
        }
      }),
      runs,
    );
  });

  it('works at the joints it lists and no others, each as the catalogue has it, and closes them all', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const plan = planOf(made.job);
        const bench = doPlan(made, plan);
        expect(plan.joints.map((each) => each.joint).sort()).toEqual(toBeClosed(made, bench));
        for (const { joint, station, ...listed } of plan.joints) {
          const { count, torque, tool, seals, closed } = made.layout.joints.get(joint) ?? {};
          expect(listed).toEqual({ count, torque, tool, seals, ...(closed && { closed }) });
          expect(station).toBe(made.layout.joints.get(joint)?.station);
          // A joint that comes with an element may be missing where what sits there isn't known: it is asked for all the same.
          const waits = plan.afterMounting.joints.includes(joint);
          if (bench.isBroken(joint)) expect(waits).toBe(true);
          else if (waits) expect(knownAt(made, station ?? '').sure, joint).toBe(false);
        }
      }),
      runs,
    );
  });

  it('looks at what is assumed or unknown before anything is taken out of it or left as it is', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const { steps, opened } = planOf(made.job);
        const looksFirst = (station: string) => {
          const mine = steps.filter((step) => step.station === station);
          const look = mine.findIndex((step) => step.action === 'look');
          const touch = mine.findIndex((step) => step.action === 'take-out' || step.action === 'put-in');
          expect(look, `a look at ${station}`).toBeGreaterThanOrEqual(0);
          if (touch >= 0) expect(look, station).toBeLessThan(touch);
        };
        for (const station of opened) if (!knownAt(made, station).sure) looksFirst(station);
        errandOf(made).looked.forEach(looksFirst);
        const looks = steps.filter((step) => step.action === 'look');
        expect(looks.filter(({ station }) => knownAt(made, station ?? '').sure)).toEqual([]);
      }),
      runs,
    );
  });

  it('works at one branch at a time, unless all may lie open together', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        if (made.layout.body.openTogether === true) return;
        const { steps, opened } = planOf(made.job);
        const branches = branchesOf(made.layout, new Set(opened), errandOf(made).looked);
        const work = steps.filter((step) => ['open', 'take-out', 'put-in', 'close'].includes(step.action));
        const onBench = work.filter((step) => opened.includes(step.station ?? ''));
        const stations = onBench.map((step) => step.station ?? '');
        for (const [nth, station] of stations.entries()) {
          if (stations.indexOf(station) !== nth) continue;
          const open = stations.slice(0, nth).filter((other) => stations.lastIndexOf(other) > nth);
          const elsewhere = open.filter((other) => branches.get(other) !== branches.get(station));
          expect(elsewhere, `open when ${station} is opened`).toEqual([]);
        }
      }),
      runs,
    );
  });
});

describe('what a plan opens', () => {
  it('is a way in that breaks the fewest joints, disturbs the fewest settings, and comes first in listed order', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const plan = planOf(made.job);
        const errand = errandOf(made);
        const [first, ...equals] = bestWaysIn(made.layout, errand);
        const opened = new Set(plan.opened);
        expect(allows(made.layout, opened, errand)).toBe(true);
        const { opened: best, ...cost } = first ?? { opened };
        expect(disturbance(made.layout, opened, errand)).toEqual(cost);
        expect(plan.opened.toSorted(), `of ${equals.length + 1}`).toEqual([...best].sort());
      }),
      runs,
    );
  });

  it('may be stated by a record: any set that can be opened and reaches the changes is taken, with its own joints', () => {
    fc.assert(
      fc.property(anyJob, fc.array(fc.boolean(), { minLength: 9, maxLength: 9 }), (made, flags) => {
        const stated = [...made.layout.stations.keys()].filter((_, nth) => flags[nth] === true);
        const { changed } = errandOf(made);
        const set = new Set([...stated, ...changed]);
        const plan = planConversion({ ...made.job, opened: stated });
        expect('refused' in plan).toBe(!allows(made.layout, set, { changed, looked: [], absent: [] }));
        if ('refused' in plan) return;
        expect(plan.opened.toSorted()).toEqual([...set].sort());
        const absent = absentInTheEnd(made);
        const broken = [...set].flatMap((id) => jointsBrokenAt(made.layout, id, changed.includes(id), absent));
        const listed = plan.joints.map((each) => each.joint);
        expect(listed).toEqual(expect.arrayContaining(broken));
        expect(listed.filter((id) => !broken.includes(id) && !made.layout.joints.get(id)?.closed)).toEqual([]);
        doPlan(made, plan);
      }),
      runs,
    );
  });
});

describe('what a plan asks for', () => {
  it('is the settings that it disturbs or that the function needs, by rank, within the tightest bounds', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const { settings, opened, evidence, afterMounting } = planOf(made.job);
        const ids = settings.map((each) => each.setting);
        expect(ids).toEqual(settingsToMake(made, opened));
        const disturbed = opened.flatMap((station) => disturbedAt(made.layout, station));
        for (const { setting, min, max, because } of settings) {
          const limits = limitsOf(made, setting);
          expect(Number(min?.value ?? -Infinity)).toBe(tightest(limits).min);
          expect(Number(max?.value ?? Infinity)).toBe(tightest(limits).max);
          if (min) expect(limits).toContainEqual(expect.objectContaining({ from: min.from, min: Number(min.value) }));
          if (max) expect(limits).toContainEqual(expect.objectContaining({ from: max.from, max: Number(max.value) }));
          const isRequired = made.functionChanges && !isWithinLimits(made, setting);
          expect(because).toBe(isRequired && !disturbed.includes(setting) ? 'required' : 'disturbed');
        }
        const onPump = made.job.pump !== null;
        expect(evidence.settings).toEqual(onPump ? ids : []);
        expect(afterMounting.settings).toEqual(onPump ? [] : ids);
      }),
      runs,
    );
  });

  it('leaves no setting of the function as it is that hands have touched', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const plan = planOf(made.job);
        const lost = new Set(doPlan(made, plan).lostSettings());
        const left = listedSettings(made).filter((id) => lost.has(id));
        expect(left.filter((id) => !plan.afterMounting.settings.includes(id))).toEqual([]);
      }),
      runs,
    );
  });

  it('sets on a closed control what was backed off before, locks it and reads it again', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const { steps, evidence } = planOf(made.job);
        const at = (action: string, setting: string) =>
          steps.findIndex((step) => step.action === action && step.setting === setting);
        const firstSet = steps.findIndex((step) => step.action === 'set');
        const turned = evidence.settings.filter((setting) => isTurned(made, setting));
        for (const setting of turned) {
          expect(at('back-off', setting)).toBeGreaterThan(0);
          expect(at('back-off', setting)).toBeLessThan(firstSet);
          expect(at('set', setting)).toBeLessThan(at('re-read', setting));
          expect(steps.filter((step) => step.action === 're-read' && step.setting === setting)).toHaveLength(1);
          const station = made.layout.settings.get(setting)?.station ?? '';
          for (const id of locknutsAt(made, station)) {
            const lock = steps.findIndex((step) => step.action === 'lock' && step.joint === id);
            expect(lock).toBeGreaterThan(at('set', setting));
            expect(lock).toBeLessThan(at('re-read', setting));
          }
        }
        const settingsMade = steps.filter((step) => step.action === 'set').map((step) => step.setting);
        expect(settingsMade).toEqual(turned);
        expect(steps.filter((step) => step.action === 'back-off')).toHaveLength(turned.length);
      }),
      runs,
    );
  });

  it('reads once what is only read, after whatever is set and locked at its station, and says at what', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const { steps, settings, evidence } = planOf(made.job);
        const read = evidence.settings.filter((setting) => !isTurned(made, setting));
        const reads = steps.filter((step) => step.action === 'read');
        expect(reads.map((step) => step.setting).sort()).toEqual(read.toSorted());
        for (const { step, station } of reads) {
          const before = steps.filter((each) => each.station === station && /^(set|lock)$/.test(each.action));
          expect(before.filter((each) => each.step > step)).toEqual([]);
        }
        for (const { action, text } of saidConversion(made.job))
          if (action === 'read') expect(text).toContain('with speed 1450 to 1550 r/min');
        for (const { setting, at, adjusted } of settings) {
          const listed = made.layout.settings.get(setting);
          expect([at, adjusted]).toEqual([listed?.at, listed?.adjusted]);
        }
      }),
      runs,
    );
  });

  it('is evidence of what was broken and closed, no more and no less', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const plan = planOf(made.job);
        const bench = doPlan(made, plan);
        expect(plan.evidence.torques.toSorted()).toEqual([...new Set(bench.everClosed())].sort());
        const sealed = toBeClosed(made, bench).filter((id) => made.layout.joints.get(id)?.seals.length);
        expect(plan.evidence.seals.toSorted()).toEqual(sealed);
      }),
      runs,
    );
  });

  it('is the tools of the joints that are worked, each once', () => {
    fc.assert(
      fc.property(anyJob, (made) => {
        const plan = planOf(made.job);
        const bench = doPlan(made, plan);
        const worked = [...bench.everBroken(), ...bench.everClosed()].map((id) => made.layout.joints.get(id)?.tool);
        const named = (each: { drive: string; size: string } | undefined) => `${each?.drive} ${each?.size}`;
        expect(plan.tools.map(named).sort()).toEqual([...new Set(worked.map(named))].sort());
      }),
      runs,
    );
  });
});

describe('plans of a pair of functions', () => {
  it('are empty from a function to itself', () => {
    fc.assert(
      fc.property(functionJob, ({ job }) => {
        const plan = planOf({ ...job, to: job.from ?? job.to, choices: {} });
        const { cover, evidence, afterMounting, load, ...lists } = plan;
        const { cost, ...covered } = cover;
        expect([cost, load]).toEqual([0, null]);
        for (const list of Object.values({ ...lists, ...covered, ...evidence, ...afterMounting }))
          expect(list).toEqual([]);
      }),
      runs,
    );
  });

  it('change the same stations there and back, where a station has one choice', () => {
    fc.assert(
      fc.property(functionJob, (made) => {
        const { job, layout } = made;
        const there = planOf({ ...job, choices: {} });
        const bench = doPlan(made, there);
        const fit = Object.fromEntries(
          [...layout.stations.keys()].map((id) => [id, { elements: bench.contentOf(id), basis: 'seen' as const }]),
        );
        const back = planOf({ ...job, fit, from: job.to, to: job.from ?? job.to, choices: {} });
        const turns = job.pump?.rotation ?? job.builtFor.rotation ?? '';
        const [one, other] = [job.from ?? '', job.to].map((id) => demandsFor(job.edition, id, turns));
        const single = (id: string) =>
          [one?.[id], other?.[id]].every(
            (each) =>
              each === 'none' ||
              (each !== 'keep' &&
                each !== undefined &&
                (typeof each[0] !== 'string' || each.length === 1) &&
                each.every((one) => typeof one === 'string' || 'quantity' in one)),
          );
        const changed = (plan: Plan) =>
          plan.changes
            .map((change) => change.station)
            .filter(single)
            .sort();
        expect(changed(back)).toEqual(changed(there));
      }),
      runs,
    );
  });
});

describe('a planner', () => {
  it('gives the same plan for the same job, however the job is written down', () => {
    fc.assert(
      fc.property(anyJob, ({ job }: BenchJob) => {
        const turned = <Value>(entries: Readonly<Record<string, Value>>) =>
          Object.fromEntries(Object.entries(structuredClone(entries)).reverse());
        const again = {
          ...structuredClone(job),
          fit: turned(job.fit),
          settings: turned(job.settings),
          choices: turned(job.choices),
          ...(job.stock && { stock: turned(job.stock) }),
        };
        expect(JSON.stringify(planConversion(again))).toBe(JSON.stringify(planConversion(job)));
      }),
      runs,
    );
  });

  it('numbers its steps from making safe on', () => {
    fc.assert(
      fc.property(knownJob, ({ job }) => {
        const steps = saidConversion(job);
        expect(steps.map((each) => each.step)).toEqual(steps.map((_, nth) => nth + 1));
        expect(steps.filter((each) => each.action === 'make-safe')).toEqual(steps.slice(0, 1));
        expect(steps.filter((each) => each.text.length === 0)).toEqual([]);
      }),
      runs,
    );
  });
});
