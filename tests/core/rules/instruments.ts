/** Tests of the rules that hold for the instruments with which torques and settings were read. */
import type { Clear } from '../../../src/core/rules/finding.ts';
import { adjustment, change, conversionOnPump, mounting, q } from '../../support/cases.ts';
import { concession, type RuleTests } from './rule-test.ts';

const torque = (place: string): Clear => ({ kind: 'torque', place });
const setting = (place: string): Clear => ({ kind: 'setting', place });

export const instruments: RuleTests = {
  'instrument-wrong-kind': [
    {
      says: 'is content where the joint was closed again with a fitting wrench',
      on: () =>
        change(conversionOnPump(), {
          '/body/torques/1/instrument': 'gauge-1',
          '/body/torques/-': {
            joint: 'sense-adjuster-body',
            how: 'set',
            reading: q('60', 'N.m'),
            instrument: 'wrench-1',
          },
        }),
      at: '/body/torques/3',
      wrong: undefined,
      right: { joint: 'sense-adjuster-body', how: 'set', reading: q('60', 'N.m'), instrument: 'wrench-1' },
      gives: [{ pointer: '/torques/1/instrument' }],
    },
    {
      says: 'holds a torque taken with a gauge',
      on: conversionOnPump,
      at: '/body/torques/1/instrument',
      wrong: 'gauge-1',
      right: 'wrench-1',
      gives: [
        {
          pointer: '/torques/1/instrument',
          expected: 'torque-wrench',
          found: 'gauge',
          clearedBy: [torque('sense-adjuster-body'), concession],
        },
      ],
    },
    {
      says: 'holds a pressure taken with a torque wrench',
      on: adjustment,
      at: '/body/settings/0/instrument',
      wrong: 'wrench-1',
      right: 'stand-1',
      gives: [
        {
          pointer: '/settings/0/instrument',
          expected: 'gauge or stand',
          found: 'torque-wrench',
          clearedBy: [setting('pressure-limit'), concession],
        },
      ],
    },
    {
      says: 'holds a difference of which the second instrument is a torque wrench',
      on: adjustment,
      at: '/body/settings/0/second',
      wrong: 'wrench-1',
      right: 'stand-1',
      gives: [{ pointer: '/settings/0/second', expected: 'gauge or stand', found: 'torque-wrench' }],
    },
  ],
  'instrument-out-of-range': [
    {
      says: 'is content where the joint was closed again with a fitting wrench',
      on: () =>
        change(conversionOnPump(), {
          '/body/torques/1/instrument': 'wrench-2',
          '/body/torques/-': {
            joint: 'sense-adjuster-body',
            how: 'set',
            reading: q('60', 'N.m'),
            instrument: 'wrench-1',
          },
        }),
      at: '/body/torques/3',
      wrong: undefined,
      right: { joint: 'sense-adjuster-body', how: 'set', reading: q('60', 'N.m'), instrument: 'wrench-1' },
      gives: [{ pointer: '/torques/1/reading' }],
    },
    {
      says: 'holds a torque below the least that its wrench measures',
      on: conversionOnPump,
      at: '/body/torques/0/instrument',
      wrong: 'wrench-1',
      right: 'wrench-2',
      gives: [
        {
          pointer: '/torques/0/reading',
          expected: '10 N.m to 100 N.m',
          found: '5.5 N.m',
          clearedBy: [torque('bleed-seat-element'), concession],
        },
      ],
    },
    {
      says: 'holds a pressure above the range of its gauge, and takes an instrument without a stated range',
      on: () => change(adjustment(), { '/instruments/gauge-1/range/max': q('200', 'bar') }),
      at: '/body/settings/0/instrument',
      wrong: 'gauge-1',
      right: 'stand-1',
      gives: [
        {
          pointer: '/settings/0/reading',
          expected: '0 bar to 200 bar',
          found: '215 bar',
          clearedBy: [setting('pressure-limit'), concession],
        },
      ],
    },
    {
      says: 'holds a torque from a wrench whose range is of another quantity',
      on: adjustment,
      at: '/instruments/wrench-1/range',
      wrong: { min: q('10', 'bar'), max: q('100', 'bar') },
      right: { min: q('88', 'lbf.in'), max: q('880', 'lbf.in') },
      gives: [{ pointer: '/torques/0/reading' }],
    },
  ],
  'instrument-unknown': [
    {
      says: 'is content where the setting was read again with a known gauge',
      on: () =>
        change(adjustment(), {
          '/body/settings/0/instrument': { unknown: 'borrowed' },
          '/body/settings/-': { setting: 'pressure-limit', reading: q('215', 'bar'), instrument: 'gauge-1' },
        }),
      at: '/body/settings/1',
      wrong: undefined,
      right: { setting: 'pressure-limit', reading: q('215', 'bar'), instrument: 'gauge-1' },
      gives: [{ pointer: '/settings/0/instrument' }],
    },
    {
      says: 'is content where the joint was closed again with a fitting wrench',
      on: () =>
        change(conversionOnPump(), {
          '/body/torques/1/instrument': { unknown: 'borrowed' },
          '/body/torques/-': {
            joint: 'sense-adjuster-body',
            how: 'set',
            reading: q('60', 'N.m'),
            instrument: 'wrench-1',
          },
        }),
      at: '/body/torques/3',
      wrong: undefined,
      right: { joint: 'sense-adjuster-body', how: 'set', reading: q('60', 'N.m'), instrument: 'wrench-1' },
      gives: [{ pointer: '/torques/1/instrument' }],
    },
    {
      says: 'holds a torque of which nobody knows with what it was taken',
      on: mounting,
      at: '/body/torques/0/instrument',
      wrong: { unknown: 'borrowed' },
      right: 'wrench-1',
      gives: [{ pointer: '/torques/0/instrument', found: 'borrowed', clearedBy: [torque('mounting'), concession] }],
    },
    {
      says: 'is content with a setting that is counted in turns, but not with a torque that nobody knows how it came',
      on: () =>
        change(adjustment(), {
          '/edition/bodies/0/settings/0/quantity': 'angle',
          '/body/settings/0/reading': q('1.5', 'turn'),
          '/body/settings/0/instrument': { unknown: 'counted by hand' },
        }),
      at: '/body/torques/0/instrument',
      wrong: { unknown: 'by hand' },
      right: 'wrench-1',
      gives: [{ pointer: '/torques/0/instrument' }],
    },
    {
      says: 'holds a setting of which nobody knows with what it was read',
      on: mounting,
      at: '/body/settings/1/instrument',
      wrong: { unknown: 'not on the card' },
      right: 'gauge-1',
      gives: [{ pointer: '/settings/1/instrument', clearedBy: [setting('differential'), concession] }],
    },
  ],
};
