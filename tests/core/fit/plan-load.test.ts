/** What a job asks of shaft and drive. Sizes and settings are those of the demo edition; what is asked is recomputed. */
import { describe, expect, it } from 'vitest';
import type { Load } from '../../../src/core/fit/plan.ts';
import type { ConversionJob } from '../../../src/core/fit/plan-conversion.ts';
import { planMounting } from '../../../src/core/fit/plan-mounting.ts';
import { sheetDigest } from '../../../src/core/fit/sheet-digest.ts';
import { demoJob, demoWith, pump83 } from '../../support/bench/demo-job.ts';
import { planned, planOf } from '../../support/bench/expected.ts';

const q = (value: string, unit: string) => ({ value, unit });
const demo = demoWith({});
const at83 = `/series/0/sizes/${demo.series[0]?.sizes.findIndex(({ id }) => id === '83')}`;
const functionAt = (id: string) => `/functions/${demo.functions.findIndex((one) => one.id === id)}`;

function loadOf(to: string, changes: Readonly<Record<string, unknown>> = {}, more: Partial<ConversionJob> = {}): Load {
  const { load } = planOf(demoJob('load-sense-bled', to, { edition: demoWith(changes), ...more }));
  if (load === null) throw new Error('the job sets nothing that loads the shaft');
  return load;
}

describe('the load of a job', () => {
  it('is the torque at the highest pressure, and the power at the corner (check values of 75 cm³, recomputed)', () => {
    // T = 250·75/(20π·0.92) = 324.365 N·m; at 1500 r/min 50.951 kW (ISO 4391 symbols, ISO 4409 definitions).
    const { size, unknown, reckoned } = loadOf('remote-pressure', {
      [`${at83}/displacement`]: q('75', 'cm3'),
      [`${at83}/highestSetting`]: q('250', 'bar'),
      [`${at83}/maxSpeed`]: q('1500', 'r/min'),
    });
    expect([size, unknown]).toEqual(['83', []]);
    expect(reckoned).toMatchObject({
      setting: 'pressure-limit',
      pressure: q('250', 'bar'),
      displacement: q('75', 'cm3'),
      efficiency: { hydromechanical: '0.92', volumetric: '0.95' },
      limited: null,
      torque: q('324.4', 'N.m'),
      limit: q('640', 'N.m'),
      isOver: false,
      // 1500·75·0.95/1000 = 106.875 L/min.
      corner: {
        speed: q('1500', 'r/min'),
        pressure: q('250.0', 'bar'),
        flow: q('106.9', 'L/min'),
        power: q('51.0', 'kW'),
      },
    });
  });

  it('is no more than the torque limit may be, and the corner then is where that begins', () => {
    const { reckoned } = loadOf('torque-limit', { [`${at83}/highestSetting`]: q('265', 'bar') });
    // The spring of the limiter ends at 340 N·m; 250 bar × 83 cm³ would ask for 359.0. 340·20π·0.92/83 = 236.8 bar.
    expect(reckoned).toMatchObject({
      limited: { setting: 'pump/torque-limit', torque: { ...q('340', 'N.m'), from: 'element spring-torque-83' } },
      torque: q('340.0', 'N.m'),
      corner: { pressure: q('236.8', 'bar') },
    });
    // What the shaft gives at 2400 r/min: 340·2π·2400/60 = 85.45 kW.
    expect(reckoned?.corner.power).toEqual(q('85.5', 'kW'));
  });

  it('is that of full displacement where the torque limit is never reached, or has no bounds', () => {
    const settings = `${functionAt('torque-limit')}/settings`;
    const at = demo.functions
      .find(({ id }) => id === 'torque-limit')
      ?.settings.findIndex(({ setting }) => setting === 'pump/torque-limit');
    const spring = `/elements/${demo.elements.findIndex(({ id }) => id === 'spring-torque-83')}/ranges`;
    const free = { [`${settings}/${at}/max`]: undefined, [spring]: undefined };
    const { reckoned } = loadOf('torque-limit', free);
    expect(reckoned).toMatchObject({ limited: null, torque: q('359.0', 'N.m') });
    const wide = loadOf('torque-limit', { [`${at83}/highestSetting`]: q('200', 'bar') });
    expect(wide.reckoned).toMatchObject({ limited: null, torque: q('287.2', 'N.m') });
  });

  it('says whether the shaft may take it', () => {
    const limit = (value: string) => loadOf('remote-pressure', { [`${at83}/shaftTorqueLimit`]: q(value, 'N.m') });
    // 250·83/(20π·0.92) = 358.963 N·m.
    expect(limit('358.9').reckoned?.isOver).toBe(true);
    expect(limit('359').reckoned?.isOver).toBe(false);
  });

  it('says what is not known, and reckons nothing from it', () => {
    const unlimited = loadOf('remote-pressure', { [`${at83}/shaftTorqueLimit`]: undefined });
    expect(unlimited.unknown).toEqual(['shaft-torque-limit']);
    expect(unlimited.reckoned).toMatchObject({ torque: q('359.0', 'N.m'), limit: null, isOver: null });
    const nothing = loadOf('remote-pressure', { [`${at83}/efficiency`]: undefined });
    expect(nothing).toEqual({ size: '83', unknown: ['efficiency'], reckoned: null });
    const torque = demo.functions.find(({ id }) => id === 'torque-limit')?.settings.at(-1);
    const alone = loadOf('torque-limit', {
      [`${functionAt('torque-limit')}/settings`]: [torque],
      [`${functionAt('torque-limit')}/relations`]: [],
    });
    expect(alone).toEqual({ size: '83', unknown: ['pressure'], reckoned: null });
  });
});

describe('the load of a control on the shelf', () => {
  const shelf = (size: string | undefined, changes: Readonly<Record<string, unknown>> = {}) =>
    loadOf('remote-pressure', changes, { pump: null, builtFor: size === undefined ? {} : { size } });

  it('is that on the size it is built for', () => {
    expect(shelf('83').reckoned?.torque).toEqual(q('359.0', 'N.m'));
    // 250·52/(20π·0.92) = 224.9 N·m.
    expect(shelf('52').reckoned?.torque).toEqual(q('224.9', 'N.m'));
  });

  it('is not known while nobody has said for which size, or two series have one of that name', () => {
    const notKnown = { size: null, unknown: ['size'], reckoned: null };
    expect(shelf(undefined)).toEqual(notKnown);
    const [series] = demo.series;
    expect(shelf('83', { '/series/1': { ...series, id: 'whimbrel' } })).toEqual(notKnown);
  });
});

describe('a job', () => {
  it('that sets nothing asks for nothing', () => {
    const settings = { 'pressure-limit': q('200', 'bar'), differential: q('14', 'bar') };
    expect(planOf(demoJob('load-sense', 'load-sense', { settings })).load).toBeNull();
  });

  it('that mounts a control has its load too', () => {
    const { edition, body, fit, builtFor } = demoJob('load-sense', 'load-sense');
    const plan = planned(planMounting({ edition, body, fit, builtFor, pump: pump83, function: 'load-sense' }));
    expect(plan.load?.reckoned?.torque).toEqual(q('359.0', 'N.m'));
  });

  it('has a digest that its load is no part of', () => {
    const plan = planOf(demoJob('load-sense-bled', 'remote-pressure'));
    expect(sheetDigest({ ...plan, load: null })).toBe(sheetDigest(plan));
  });
});
