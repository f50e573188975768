/**
 * Between which bounds a setting is made: the function, what is fitted, the size's highest permitted setting. Values
 * are those of the demo edition, which is invented; 1 psi is 6894.757 Pa (NIST SP 811, appendix B).
 */
import { describe, expect, it } from 'vitest';
import { demandOf } from '../../../src/core/fit/demand.ts';
import { layoutOf } from '../../../src/core/fit/layout.ts';
import { type ConversionJob, planConversion } from '../../../src/core/fit/plan-conversion.ts';
import { demoJob, demoWith, pump83 } from '../../support/bench/demo-job.ts';
import { planOf } from '../../support/bench/expected.ts';

const bar = (value: string, from: string) => ({ value, unit: 'bar', from });
const boundsOf = (job: ConversionJob, setting: string) => {
  const found = planOf(job).settings.find((one) => one.setting === setting);
  return found === undefined ? null : { min: found.min, max: found.max };
};
const size83 = '/series/0/sizes/1';
const adjusterSpring = '/elements/11/ranges/pressure-limit';

describe('the bounds of a setting', () => {
  it('are those of the function where nothing else is tighter', () => {
    const job = demoJob('pressure-limit', 'load-sense', { instead: { 'sense-spring': 'spring-sense-30' } });
    expect(boundsOf(job, 'differential')).toEqual({
      min: bar('14', 'element spring-sense-30'),
      max: bar('35', 'function load-sense'),
    });
    expect(boundsOf(demoJob('load-sense', 'pressure-limit'), 'differential')).toEqual({
      min: bar('14', 'function pressure-limit'),
      max: bar('30', 'function pressure-limit'),
    });
  });

  it('are narrowed by what is fitted, at the station of the setting or far from it', () => {
    const fitted = (adjuster: string) =>
      boundsOf(
        demoJob('load-sense', 'remote-pressure', { instead: { 'pressure-adjuster': adjuster } }),
        'pressure-limit',
      );
    expect(fitted('adjuster-250')).toEqual({
      min: bar('50', 'function remote-pressure'),
      max: bar('250', 'element adjuster-250'),
    });
    expect(fitted('adjuster-320')).toEqual({
      min: bar('90', 'element adjuster-320'),
      max: bar('265', 'function remote-pressure'),
    });
    expect(boundsOf(demoJob('pressure-limit', 'load-sense'), 'differential')).toEqual({
      min: bar('14', 'element spring-sense-30'),
      max: bar('35', 'function load-sense'),
    });
    const chosen = demoJob('pressure-limit', 'load-sense', { choices: { 'sense-spring': 'spring-sense-16' } });
    expect(boundsOf(chosen, 'differential')).toEqual({
      min: bar('10', 'function load-sense'),
      max: bar('22', 'element spring-sense-16'),
    });
  });

  it('are narrowed by what is fitted in another unit', () => {
    const edition = demoWith({ [adjusterSpring]: { min: bound('500', 'psi'), max: bound('3000', 'psi') } });
    expect(boundsOf(demoJob('load-sense', 'remote-pressure', { edition }), 'pressure-limit')).toEqual({
      min: bar('50', 'function remote-pressure'),
      max: { value: '3000', unit: 'psi', from: 'element adjuster-250' },
    });
  });

  it('are narrowed by the highest permitted setting of the size, where it is a pressure and the pump is at hand', () => {
    const edition = demoWith({ [`${size83}/highestSetting/value`]: '200' });
    const job = demoJob('load-sense', 'torque-limit', { edition });
    expect(boundsOf(job, 'pressure-limit')).toEqual({
      min: bar('50', 'function torque-limit'),
      max: bar('200', 'size 83'),
    });
    expect(boundsOf(job, 'pump/torque-limit')).toEqual({
      min: { value: '120', unit: 'N.m', from: 'function torque-limit' },
      max: { value: '340', unit: 'N.m', from: 'element spring-torque-83' },
    });
    const onShelf = { ...job, pump: null, builtFor: { size: '83' } };
    expect(boundsOf(onShelf, 'pressure-limit')?.max).toEqual(bar('250', 'element adjuster-250'));
    expect(boundsOf(onShelf, 'pump/torque-limit')).toBeNull();
  });

  it('may be a target and a tolerance', () => {
    const job = demoJob('remote-pressure', 'electric-pressure', { builtFor: { voltage: '24 V' } });
    expect(boundsOf(job, 'starting-current')).toEqual({
      min: { value: '230', unit: 'mA', from: 'function electric-pressure' },
      max: { value: '290', unit: 'mA', from: 'function electric-pressure' },
    });
  });

  it('that leave no value at all refuse the plan, and say which two are at odds', () => {
    const refused = (highest: string, pump: ConversionJob['pump']) => {
      const edition = demoWith({ [`${size83}/highestSetting/value`]: highest });
      return planConversion({ ...demoJob('load-sense', 'load-sense-bled', { edition }), pump });
    };
    expect(refused('49.9', pump83)).toEqual({
      refused:
        'no value of pressure-limit is allowed: it must be at least 50 bar (function load-sense-bled) and at most 49.9 bar (size 83)',
      offered: [],
    });
    expect(refused('50', pump83)).not.toHaveProperty('refused');
    expect(refused('49.9', null)).not.toHaveProperty('refused');
  });

  it('say nothing of relations, which need values of the circuit: those are judged with a record', () => {
    const without = demoWith({ '/functions/2/relations': [] });
    expect(planOf(demoJob('load-sense', 'load-sense-bled', { edition: without }))).toEqual(
      planOf(demoJob('load-sense', 'load-sense-bled')),
    );
  });
});

describe('a setting that the pair is known to have', () => {
  const known = (value: string) =>
    planOf(
      demoJob('load-sense', 'load-sense-bled', {
        settings: { 'pressure-limit': bound(value, 'bar'), differential: bound('15', 'bar') },
      }),
    ).settings.map((one) => [one.setting, one.because]);

  it('stays when it lies within what the spring reaches, and is set when it does not', () => {
    expect(known('250')).toEqual([['differential', 'disturbed']]);
    expect(known('250.1')).toEqual([
      ['pressure-limit', 'required'],
      ['differential', 'disturbed'],
    ]);
  });

  it('is set when its spring is changed, wherever that sits', () => {
    const settings = {
      'pressure-limit': bound('200', 'bar'),
      differential: bound('15', 'bar'),
      'pump/torque-limit': bound('200', 'N.m'),
    };
    const job = demoJob('torque-limit', 'torque-limit', { settings });
    expect(planOf(job).settings).toEqual([]);
    const fit = { ...job.fit, 'pump/torque-spring': { elements: [], basis: 'seen' as const } };
    const { opened, settings: set } = planOf({ ...job, fit });
    expect(opened).toEqual(['pump/flank-cover', 'pump/linkage', 'pump/torque-spring']);
    expect(set.map((one) => [one.setting, one.because])).toEqual([['pump/torque-limit', 'disturbed']]);
  });

  it('means nothing on a control that matches no function: none is asked for', () => {
    const { edition } = demoJob('load-sense', 'load-sense-bled');
    const [body] = edition.bodies;
    if (body === undefined) throw new Error('the edition has no body');
    const layout = layoutOf(body, null);
    const demanded = demandOf({
      ...{ edition, layout, kind: 'conversion', onPump: false, function: null, functionChanges: true, known: {} },
      ...{ set: [], before: new Map(), contents: new Map(), toOpen: ['sense-spring'], toReach: [], opened: undefined },
    });
    expect(demanded.settings).toEqual([]);
    expect(demanded.joints.map((one) => one.joint)).toEqual(['sense-adjuster-body', 'sense-adjuster-locknut']);
  });
});

function bound(value: string, unit: string) {
  return { value, unit };
}
