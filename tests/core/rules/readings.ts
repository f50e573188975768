/** Tests of the rules that hold for torques, seals and settings. */
import type { Clear } from '../../../src/core/rules/finding.ts';
import { adjustment, change, conversionOnPump, mounting, q } from '../../support/cases.ts';
import { concession, inEdition, jointInEdition, type RuleTests } from './rule-test.ts';

const torque = (place: string): Clear => ({ kind: 'torque', place });
const seal = (place: string): Clear => ({ kind: 'seal', place });
const setting = (place: string): Clear => ({ kind: 'setting', place });
/** The pressure limit is the first setting of the block. */
const limitInEdition = '/edition/bodies/0/settings/0';
const screws = (...values: readonly string[]) => values.map((value) => q(value, 'N.m'));

export const readings: RuleTests = {
  'joint-not-closed': [
    {
      says: 'holds a joint that was broken on the way and has no closing torque',
      on: () => change(conversionOnPump(), { '/body/torques/1': undefined }),
      at: '/body/torques/-',
      wrong: { joint: 'side-cap-body', how: 'set', reading: q('34', 'N.m'), instrument: 'wrench-1' },
      right: { joint: 'sense-adjuster-body', how: 'set', reading: q('61', 'N.m'), instrument: 'wrench-1' },
      gives: [
        {
          pointer: '/torques',
          expected: '1 reading for sense-adjuster-body',
          found: '0',
          clearedBy: [torque('sense-adjuster-body'), concession],
        },
      ],
    },
    {
      says: 'holds a joint of four screws with three torques',
      on: mounting,
      at: '/body/torques/0/reading',
      wrong: screws('25', '25', '25'),
      right: screws('25', '25', '25', '25'),
      gives: [{ pointer: '/torques/0/reading', expected: '4 readings for mounting', found: '3' }],
    },
    {
      says: 'holds a joint of four screws with one torque for all, and takes a fifth reading',
      on: mounting,
      at: '/body/torques/0/reading',
      wrong: q('25', 'N.m'),
      right: screws('25', '25', '25', '25', '26'),
      gives: [
        {
          pointer: '/torques/0/reading',
          found: '1',
          because: 'mounting is broken by this work, and only 1 of 4 screws have a torque.',
        },
      ],
    },
    {
      says: 'holds the locknut of a setting that was set',
      on: adjustment,
      at: '/body/torques',
      wrong: [],
      right: [
        { joint: 'pressure-adjuster-locknut', how: 'indicated', reading: q('20', 'N.m'), instrument: 'wrench-1' },
      ],
      gives: [{ pointer: '/torques', clearedBy: [torque('pressure-adjuster-locknut'), concession] }],
    },
    {
      says: 'demands the joints of the way that was opened',
      on: () => change(conversionOnPump(), { '/body/opened': ['sense-adjuster'] }),
      at: '/body/opened',
      wrong: ['sense-adjuster', 'side-cap'],
      right: ['sense-adjuster'],
      gives: [{ pointer: '/torques', expected: '1 reading for side-cap-body' }],
    },
  ],
  'torque-outside': [
    {
      says: 'holds a torque above its limit, and takes the limit',
      on: conversionOnPump,
      at: '/body/torques/1/reading',
      wrong: q('64.1', 'N.m'),
      right: q('64.0', 'N.m'),
      gives: [
        {
          pointer: '/torques/1/reading',
          expected: '58 to 64 N.m',
          found: '64.1 N.m',
          clearedBy: [torque('sense-adjuster-body'), concession],
        },
      ],
    },
    {
      // 42.78 lbf.ft is 58.0 N.m by NIST SP 811 (2008) app. B.8: 1.355 817 948 331 400 4 N.m a lbf.ft.
      says: 'compares in whatever unit was read',
      on: conversionOnPump,
      at: '/body/torques/1/reading',
      wrong: q('42.77', 'lbf.ft'),
      right: q('42.78', 'lbf.ft'),
      gives: [{ pointer: '/torques/1/reading', found: '42.77 lbf.ft' }],
    },
    {
      says: 'holds one screw of four, and points at it',
      on: mounting,
      at: '/body/torques/0/reading',
      wrong: screws('25', '25', '22.9', '25'),
      right: screws('25', '25', '23.0', '25'),
      gives: [{ pointer: '/torques/0/reading/2', found: '22.9 N.m' }],
    },
    {
      // M·(L+E)/L with L = 400 mm and E = 50 mm: 54.222 N.m at the wrench are 61 N.m at the joint (lever rule).
      says: 'counts what arrives at the end of an extension',
      on: () =>
        change(conversionOnPump(), { '/body/torques/1/adapter': { arm: q('400', 'mm'), extension: q('50', 'mm') } }),
      at: '/body/torques/1/reading',
      wrong: q('61', 'N.m'),
      right: q('54.222', 'N.m'),
      gives: [
        {
          pointer: '/torques/1/reading',
          because: 'sense-adjuster-body was closed with 61 N.m through an extension; its limits are 58 to 64 N.m.',
        },
      ],
    },
    {
      says: 'takes any torque of a joint that is turned by an angle, also through an extension',
      on: () =>
        change(conversionOnPump(), {
          '/body/torques/1/reading': q('90', 'N.m'),
          '/body/torques/1/adapter': { arm: q('400', 'mm'), extension: q('50', 'mm') },
        }),
      at: `${jointInEdition('sense-adjuster-body')}/torque`,
      wrong: { target: q('61', 'N.m'), tolerance: q('3', 'N.m'), angle: q('60', 'deg') },
      right: { target: q('61', 'N.m'), angle: q('60', 'deg') },
      gives: [{ pointer: '/torques/1/reading' }],
    },
    {
      says: 'goes by the last torque of a joint',
      on: () =>
        change(conversionOnPump(), {
          '/body/torques/-': {
            joint: 'sense-adjuster-body',
            how: 'set',
            reading: q('50', 'N.m'),
            instrument: 'wrench-1',
          },
        }),
      at: '/body/torques/3/reading',
      wrong: q('50', 'N.m'),
      right: q('60', 'N.m'),
      gives: [{ pointer: '/torques/3/reading', found: '50 N.m' }],
    },
    {
      says: 'is content with a first torque outside where the joint was closed again',
      on: () =>
        change(conversionOnPump(), {
          '/body/torques/-': {
            joint: 'sense-adjuster-body',
            how: 'set',
            reading: q('60', 'N.m'),
            instrument: 'wrench-1',
          },
          '/body/torques/1/reading': q('80', 'N.m'),
        }),
      at: '/body/torques/3',
      wrong: undefined,
      right: { joint: 'sense-adjuster-body', how: 'set', reading: q('60', 'N.m'), instrument: 'wrench-1' },
      gives: [{ pointer: '/torques/1/reading', found: '80 N.m' }],
    },
  ],
  'seal-not-renewed': [
    {
      says: 'holds a broken joint whose seal was not renewed',
      on: conversionOnPump,
      at: '/body/seals',
      wrong: [],
      right: [{ joint: 'sense-adjuster-body', seal: { unknown: 'out of a bag without a label' } }],
      gives: [
        {
          pointer: '/seals',
          expected: '1 × seal-22 at sense-adjuster-body',
          found: '0',
          clearedBy: [seal('sense-adjuster-body'), concession],
        },
      ],
    },
    {
      says: 'holds a seal of another size',
      on: conversionOnPump,
      at: '/body/seals/0/seal',
      wrong: 'seal-14-fkm',
      right: 'seal-22-nbr',
      gives: [{ pointer: '/seals', found: '0' }],
    },
    {
      says: 'holds a part that is no seal',
      on: conversionOnPump,
      at: '/body/seals/0/seal',
      wrong: 'plug-m5',
      right: 'seal-22-fkm',
      gives: [{ pointer: '/seals', found: '0' }],
    },
    {
      says: 'holds two seals where the joint has three',
      on: mounting,
      at: '/body/seals/0/quantity',
      wrong: 2,
      right: 3,
      gives: [
        {
          pointer: '/seals',
          found: '2',
          because: 'mounting was broken and not all its seals are recorded as renewed (seal-face).',
        },
      ],
    },
    {
      says: 'holds a seal put down for another joint',
      on: conversionOnPump,
      at: '/body/seals/0/joint',
      wrong: 'pressure-adjuster-body',
      right: 'sense-adjuster-body',
      gives: [{ pointer: '/seals' }],
    },
  ],
  'seal-wrong-compound': [
    {
      says: "holds a seal that does not stand the pump's fluid",
      on: () => change(conversionOnPump(), { '/pump/events/0/effect/born/fluid': 'ester' }),
      at: '/body/seals/0/seal',
      wrong: 'seal-22-nbr',
      right: 'seal-22-fkm',
      gives: [
        {
          pointer: '/seals/0/seal',
          expected: 'a seal for ester',
          found: 'seal-22-nbr (NBR)',
          clearedBy: [seal('sense-adjuster-body'), concession],
        },
      ],
    },
    {
      says: 'says nothing where the fluid is not known',
      on: () => change(conversionOnPump(), { '/body/seals/0/seal': 'seal-22-nbr' }),
      at: '/pump/events/0/effect/born/fluid',
      wrong: 'ester',
      right: null,
      gives: [{ pointer: '/seals/0/seal' }],
    },
    {
      says: 'says so where the edition does not state the compound',
      on: () => change(conversionOnPump(), { '/pump/events/0/effect/born/fluid': 'ester' }),
      at: inEdition('elements', 'seal-22-fkm'),
      wrong: { id: 'seal-22-fkm', kind: 'seal', fits: 'seal-22', fluids: ['mineral'] },
      right: { id: 'seal-22-fkm', kind: 'seal', fits: 'seal-22' },
      gives: [{ pointer: '/seals/0/seal', found: 'seal-22-fkm (compound not stated)' }],
    },
  ],
  'read-elsewhere': [
    {
      says: 'holds a point of a curve that was read at another point',
      on: () =>
        change(adjustment(), {
          [`${limitInEdition}/at`]: { speed: { target: q('1500', 'r/min'), tolerance: q('2', '%') } },
          '/body/settings/0/conditions': { oil: q('50', 'degC'), speed: q('1500', 'r/min') },
        }),
      at: '/body/settings/0/conditions/speed',
      wrong: q('1469.9', 'r/min'),
      right: q('1470', 'r/min'),
      gives: [
        {
          pointer: '/settings/0/conditions/speed',
          expected: '1470 to 1530 r/min',
          found: '1469.9 r/min',
          clearedBy: [setting('pressure-limit'), concession],
        },
      ],
    },
    {
      says: 'holds a point that was read with something else than the edition asks for',
      on: () =>
        change(adjustment(), {
          [`${limitInEdition}/at`]: { current: { min: q('395', 'mA'), max: q('405', 'mA') } },
          '/body/settings/0/conditions': { current: q('0.4', 'A') },
        }),
      at: '/body/settings/0/conditions/current',
      wrong: q('400', 'V'),
      right: q('0.4', 'A'),
      gives: [{ pointer: '/settings/0/conditions/current', expected: '395 to 405 mA', found: '400 V' }],
    },
    {
      says: 'says nothing where the record does not say at what was read, nor of a reading taken again',
      on: () =>
        change(adjustment(), {
          [`${limitInEdition}/at`]: { speed: { min: q('1450', 'r/min'), max: q('1550', 'r/min') } },
          '/body/settings/0/conditions': { speed: q('1000', 'r/min') },
        }),
      at: '/body/settings/-',
      wrong: {
        setting: 'pressure-limit',
        reading: q('210', 'bar'),
        instrument: 'gauge-1',
        conditions: { speed: q('1600', 'r/min') },
      },
      right: { setting: 'pressure-limit', reading: q('210', 'bar'), instrument: 'gauge-1' },
      gives: [{ pointer: '/settings/1/conditions/speed' }],
    },
  ],
  'setting-outside': [
    {
      says: 'holds a setting above what the fitted spring reaches',
      on: () => change(adjustment(), { '/control/events/0/effect/found/pressure-adjuster/elements': adjuster('250') }),
      at: '/body/settings/0/reading',
      wrong: q('250.1', 'bar'),
      right: q('250', 'bar'),
      gives: [
        {
          pointer: '/settings/0/reading',
          expected: '50 to 250 bar',
          found: '250.1 bar',
          clearedBy: [setting('pressure-limit'), concession],
        },
      ],
    },
    {
      says: 'holds a setting above what a spring reaches that sits at another station than the adjuster',
      on: () => change(conversionOnPump(), { '/body/settings/0/reading': q('22.1', 'bar') }),
      at: '/control/events/0/effect/found/sense-spring/elements/0/element',
      wrong: 'spring-sense-16',
      right: 'spring-sense-30',
      gives: [{ pointer: '/settings/0/reading', expected: '10 to 22 bar', found: '22.1 bar' }],
    },
    {
      says: 'holds a setting above what the size may be set to',
      on: () =>
        change(adjustment(), {
          '/control/events/0/effect/found/pressure-adjuster/elements': adjuster('320'),
          '/edition/series/0/sizes/1/highestSetting': q('240', 'bar'),
        }),
      at: '/body/settings/0/reading',
      wrong: q('240.5', 'bar'),
      right: q('24', 'MPa'),
      gives: [{ pointer: '/settings/0/reading', expected: '90 to 240 bar' }],
    },
    {
      says: 'holds a setting below what the function needs',
      on: conversionOnPump,
      at: '/body/settings/0/reading',
      wrong: q('9.9', 'bar'),
      right: q('10', 'bar'),
      gives: [{ pointer: '/settings/0/reading', found: '9.9 bar' }],
    },
    {
      says: 'goes by the last reading of a setting',
      on: () =>
        change(adjustment(), {
          '/body/settings/0/reading': q('300', 'bar'),
          '/body/settings/-': { setting: 'pressure-limit', reading: q('215', 'bar'), instrument: 'gauge-1' },
        }),
      at: '/body/settings/1/reading',
      wrong: q('30', 'bar'),
      right: q('215', 'bar'),
      gives: [{ pointer: '/settings/1/reading', found: '30 bar' }],
    },
    {
      says: 'says nothing of a setting that the function has not',
      on: adjustment,
      at: '/body/settings/1',
      wrong: { setting: 'differential', reading: q('9', 'bar'), instrument: 'stand-1' },
      right: { setting: 'pump/torque-limit', reading: q('9', 'N.m'), instrument: 'stand-1' },
      gives: [{ pointer: '/settings/1/reading' }],
    },
    {
      says: 'holds a setting of a function that has been retired since',
      on: () => change(adjustment(), { [`${inEdition('functions', 'load-sense-bled')}/retired`]: true }),
      at: '/body/settings/0/reading',
      wrong: q('49', 'bar'),
      right: q('50', 'bar'),
      gives: [{ pointer: '/settings/0/reading' }],
    },
    {
      says: 'shows the one limit that there is, the highest',
      on: () => change(conversionOnPump(), { '/control/events/0/effect/found/sense-spring': undefined }),
      at: `${inEdition('functions', 'load-sense')}/settings/1`,
      wrong: { setting: 'differential', max: q('19.9', 'bar') },
      right: { setting: 'differential', max: q('20', 'bar') },
      gives: [{ pointer: '/settings/0/reading', expected: 'at most 19.9 bar' }],
    },
    {
      says: 'shows the one limit that there is, the lowest',
      on: () =>
        change(conversionOnPump(), {
          '/control/events/0/effect/found/sense-spring': undefined,
          '/edition/series/0/sizes/1/highestSetting': q('99', 'bar'),
          '/body/settings/0': { setting: 'pump/torque-limit', reading: q('200', 'N.m'), instrument: 'stand-1' },
        }),
      at: `${inEdition('functions', 'load-sense')}/settings/1`,
      wrong: { setting: 'pump/torque-limit', min: q('201', 'N.m') },
      right: { setting: 'pump/torque-limit', min: q('200', 'N.m') },
      gives: [{ pointer: '/settings/0/reading', expected: 'at least 201 N.m' }],
    },
    {
      says: 'shows two limits in their own units',
      on: conversionOnPump,
      at: `${inEdition('functions', 'load-sense')}/settings/1`,
      wrong: { setting: 'differential', min: q('10', 'bar'), max: q('1.9', 'MPa') },
      right: { setting: 'differential', min: q('10', 'bar'), max: q('2', 'MPa') },
      gives: [{ pointer: '/settings/0/reading', expected: '10 bar to 1.9 MPa' }],
    },
  ],
};

function adjuster(spring: string) {
  return [{ element: `adjuster-${spring}`, quantity: 1 }];
}
