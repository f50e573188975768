/**
 * Plans against one workshop's account of how it converts a control from load sensing to remote pressure: common
 * practice, no published source. Names, torques and values of the edition are invented.
 *
 * The account: the pressure adjuster comes out. Of two openings beneath it one is open on purpose and stays so; the
 * plug in the other is changed for an orifice. The adjuster goes back and is torqued before anything else is opened.
 * The differential adjuster comes out with its spool's seat, and the spool is changed, plain face inward; it falls in
 * freely. If the start was the bled variant, the orifice in the passage between the stages, reached through an access
 * plug of its own, is changed for a plug; if it was not, that step is absent and the kit's plug is left over. The
 * pressure is set on the pump afterwards.
 */
import { describe, expect, it } from 'vitest';
import type { Plan, Step } from '../../../src/core/fit/plan.ts';
import type { ConversionJob } from '../../../src/core/fit/plan-conversion.ts';
import { doPlan, planOf } from '../../support/bench/expected.ts';
import { saidConversion } from '../../support/bench/in-english.ts';
import { demandsOf, layoutOf } from '../../support/bench/layout.ts';
import { shown } from '../../support/bench/pieces.ts';
import { contentsFor, publishedEditions } from '../../support/bench/published.ts';

const body = 'two-stage-block';
const pump = { series: 'curlew', size: '83', rotation: 'clockwise', fluid: 'mineral' } as const;
const edition = publishedEditions().find((each) => each.name === 'workshop-account.json')?.edition;

const pressureSide = [
  'open pressure-adjuster-locknut',
  'open pressure-adjuster-body',
  'take-out 1 adjuster-pressure of pressure-adjuster, to go back',
  'open plugged-passage-element',
  'take-out 1 plug-passage of plugged-passage',
  'put-in 1 orifice-passage of plugged-passage',
  'close plugged-passage-element',
  'put-in 1 adjuster-pressure of pressure-adjuster, to go back',
  'close pressure-adjuster-body',
];
const differentialSide = [
  'open differential-adjuster-locknut',
  'open differential-adjuster-body',
  'take-out 1 adjuster-differential of differential-adjuster, to go back',
  'take-out 1 seat-ring of spool-seat, to go back',
  'take-out 1 spool-sense of spool-bore',
  'put-in 1 spool-remote of spool-bore',
  'put-in 1 seat-ring of spool-seat, to go back',
  'put-in 1 adjuster-differential of differential-adjuster, to go back',
  'close differential-adjuster-body',
];
const betweenTheStages = [
  'open stage-plug-body',
  'open stage-passage-element',
  'take-out 1 orifice-stage of stage-passage',
  'put-in 1 plug-stage of stage-passage',
  'close stage-passage-element',
  'close stage-plug-body',
];

describe('the account of a workshop (common practice, no published source)', () => {
  it('is what the plan says of a bled control, step by step', () => {
    const { plan, bench } = converted('load-sense-bled', 'remote-pressure');
    expect(benchWork(plan)).toEqual([...pressureSide, ...differentialSide, ...betweenTheStages]);
    expect(bench.contentOf('open-passage')).toEqual([]);
    expect(plan.cover).toEqual({ kits: [{ part: 'kit-remote', quantity: 1 }], loose: [], leftOver: [], cost: 140 });
  });

  it('is what the plan says of one without a bleed: that step is absent and the plug of the kit is left over', () => {
    const { plan } = converted('load-sense', 'remote-pressure');
    expect(benchWork(plan)).toEqual([...pressureSide, ...differentialSide]);
    expect(plan.cover.kits).toEqual([{ part: 'kit-remote', quantity: 1 }]);
    expect(plan.cover.loose).toEqual([]);
    expect(shown(plan.cover.leftOver)).toBe('1 plug-stage, 1 seal-plug-nbr');
  });

  it('says how the spool goes in', () => {
    const { job } = converted('load-sense', 'remote-pressure');
    const spool = saidConversion(job).find((step) => step.action === 'put-in' && step.station === 'spool-bore');
    expect(spool?.text).toContain('plain face inward');
    expect(spool?.text).toContain('falls in freely');
  });

  it('torques the first adjuster before anything else is opened, and renews the seal of each', () => {
    const { plan } = converted('load-sense-bled', 'remote-pressure');
    const order = benchWork(plan);
    expect(order.indexOf('close pressure-adjuster-body')).toBeLessThan(
      order.indexOf('open differential-adjuster-body'),
    );
    expect(plan.evidence.torques).toContain('pressure-adjuster-body');
    expect(plan.evidence.seals).toEqual(['pressure-adjuster-body', 'differential-adjuster-body', 'stage-plug-body']);
  });

  it('sets the pressure on the pump afterwards: a control on the shelf waits for it with its locknuts', () => {
    const { plan } = converted('load-sense', 'remote-pressure');
    expect(plan.steps.filter((step) => step.action === 'set')).toEqual([]);
    expect(plan.afterMounting.settings).toEqual(['pressure-limit', 'differential']);
    expect(plan.afterMounting.joints).toEqual(['pressure-adjuster-locknut', 'differential-adjuster-locknut']);
    expect(plan.afterMounting.checks).toEqual(['leak-free', 'function-check', 'plate-marked']);
  });

  it('sets the pressure on the pump afterwards: a control on its pump is closed before, the pressure set first', () => {
    const { plan } = converted('load-sense', 'remote-pressure', pump);
    const after = plan.steps.slice(plan.steps.findLastIndex((step) => step.action === 'close') + 1);
    expect(after.filter((step) => step.action === 'set').map((step) => step.setting)).toEqual([
      'pressure-limit',
      'differential',
    ]);
    expect(after.filter((step) => step.action === 'lock').map((step) => step.joint)).toEqual([
      'pressure-adjuster-locknut',
      'differential-adjuster-locknut',
    ]);
  });

  it('leaves both adjusters alone where the bleed alone is changed, either way', () => {
    const without = converted('load-sense-bled', 'load-sense');
    expect(benchWork(without.plan)).toEqual(betweenTheStages);
    expect(without.plan.cover.kits).toEqual([{ part: 'kit-unbleed', quantity: 1 }]);
    const bled = converted('load-sense', 'load-sense-bled');
    expect(bled.plan.changes).toEqual([
      {
        station: 'stage-passage',
        out: [{ element: 'plug-stage', quantity: 1 }],
        in: [{ element: 'orifice-stage', quantity: 1 }],
      },
    ]);
    expect(bled.plan.opened.toSorted()).toEqual(['stage-passage', 'stage-plug']);
    expect(bled.plan.cover.kits).toEqual([{ part: 'kit-bleed', quantity: 1 }]);
  });
});

function converted(from: string, to: string, at: ConversionJob['pump'] = null) {
  const start = edition?.functions.find((fun) => fun.id === from);
  if (edition === undefined || start === undefined) throw new Error(`workshop-account.json has no function ${from}`);
  const layout = layoutOf(edition, body, at);
  const truth = contentsFor(layout, demandsOf(start, {}) ?? {}, 'first');
  const fit = Object.fromEntries(
    Object.entries(truth).map(([id, elements]) => [id, { elements, basis: 'seen' as const }]),
  );
  /** The settings fit every function of the edition: only what is disturbed is set. */
  const settings = { 'pressure-limit': { value: '200', unit: 'bar' }, differential: { value: '20', unit: 'bar' } };
  const job: ConversionJob = {
    edition,
    body,
    pump: at,
    builtFor: { size: '83' },
    fit,
    from,
    settings,
    to,
    choices: {},
  };
  const plan = planOf(job);
  return { job, plan, bench: doPlan({ layout, truth }, plan) };
}

/** What hands do at stations and joints, one line a step, without looks, settings and checks. */
function benchWork(plan: Plan): string[] {
  const lines: Partial<Record<Step['action'], (step: Step) => string>> = {
    open: (step) => `open ${step.joint}`,
    close: (step) => `close ${step.joint}`,
    'take-out': moved,
    'put-in': moved,
  };
  return plan.steps.flatMap((step) => lines[step.action]?.(step) ?? []);
}

function moved({ action, station, elements, same }: Step): string {
  return `${action} ${shown(elements ?? [])} of ${station}${same ? ', to go back' : ''}`;
}
