/** Tests of the rules that reckon: relations of settings with pump and circuit, and the torque on the shaft. */
import { adjustment, change, q, takingOff } from '../../support/cases.ts';
import { concession, inEdition, type RuleTests } from './rule-test.ts';

const setting = (place: string) => ({ kind: 'setting', place }) as const;
const ofCircuit = (place: string) => ({ kind: 'circuit', place }) as const;
const circuit = { 'system-relief': q('260', 'bar'), 'highest-signal': q('175', 'bar') };
const sizeInEdition = '/edition/series/0/sizes';
const sizes = adjustment().edition.series[0]?.sizes ?? [];
const size = `${sizeInEdition}/${sizes.findIndex((one) => one.id === '83')}`;
const relations = `${inEdition('functions', 'load-sense-bled')}/relations`;

export const physics: RuleTests = {
  'relation-broken': [
    {
      // 185 + 20 + 15 − 215 = 5 bar, and 175 + 20 + 15 − 215 = −5 bar.
      says: 'holds a limit that the highest signal and the differential reach',
      on: () => change(adjustment(), { '/body/circuit': circuit }),
      at: '/body/circuit/highest-signal',
      wrong: q('185', 'bar'),
      right: q('180', 'bar'),
      gives: [
        {
          ...{ pointer: '/settings', expected: 'at most 0', found: '5.0 bar' },
          because:
            'limit-above-signal: highest signal + differential + 15 bar must not exceed the pressure limit. highest-signal 185 bar + differential 20 bar + 15 bar − pressure-limit 215 bar is 5.0 bar, and must be at most 0.',
          clearedBy: [ofCircuit('highest-signal'), setting('differential'), setting('pressure-limit'), concession],
        },
      ],
    },
    {
      says: 'takes what was stated before of the same pair, says so, and lets what is stated now win',
      on: () =>
        change(adjustment(), {
          '/body/circuit': { 'system-relief': q('260', 'bar') },
          '/control/events/0/effect/circuit': { 'highest-signal': q('150', 'bar'), 'system-relief': q('100', 'bar') },
        }),
      at: '/control/events/0/effect/circuit/highest-signal',
      wrong: q('185', 'bar'),
      right: q('180', 'bar'),
      gives: [
        {
          ...{ pointer: '/settings', expected: 'at most 0', found: '5.0 bar' },
          because:
            'limit-above-signal: highest signal + differential + 15 bar must not exceed the pressure limit. highest-signal 185 bar + differential 20 bar + 15 bar − pressure-limit 215 bar is 5.0 bar, and must be at most 0. Stated earlier: highest-signal.',
        },
      ],
    },
    {
      says: 'takes a factor, a lower bound and other units as they are written',
      on: () =>
        change(adjustment(), {
          [relations]: [
            {
              ...{ id: 'half', text: 'half of the limit is above 10 MPa', atLeast: '0' },
              sum: [
                { value: '10', unit: 'MPa', times: -1 },
                { setting: 'pressure-limit', times: 0.5 },
              ],
            },
          ],
        }),
      at: '/body/settings/0/reading',
      wrong: q('199', 'bar'),
      right: q('200', 'bar'),
      gives: [
        {
          ...{ expected: 'at least 0', found: '-0.1 MPa', pointer: '/settings' },
          because:
            'half: half of the limit is above 10 MPa. − 10 MPa + 0.5 × pressure-limit 199 bar is -0.1 MPa, and must be at least 0.',
        },
      ],
    },
    {
      says: 'names of two bounds the one that is missed, and shows what a decimal would round away',
      on: () =>
        change(adjustment(), {
          [relations]: [
            {
              ...{ id: 'even', text: 'the limit is 215 bar', atMost: '0', atLeast: '0' },
              sum: [{ setting: 'pressure-limit' }, { value: '215', unit: 'bar', times: -1 }],
            },
          ],
        }),
      at: '/body/settings/0/reading',
      wrong: q('214.99', 'bar'),
      right: q('215', 'bar'),
      gives: [{ expected: 'at least 0', found: '-0.010 bar', pointer: '/settings' }],
    },
    {
      says: 'holds nothing of a control that comes off its pump',
      on: () =>
        change(takingOff(), {
          '/body/circuit': { ...circuit, 'highest-signal': q('185', 'bar') },
          '/control/events/0/effect/settings/pressure-limit': q('215', 'bar'),
        }),
      at: '/body/on',
      wrong: true,
      right: false,
      gives: [{ pointer: '/settings' }],
    },
  ],
  'relation-unknown': [
    {
      says: 'notes what is missing where the circuit was measured',
      on: () => change(adjustment(), { '/body/circuit': circuit }),
      at: '/body/circuit/highest-signal',
      wrong: undefined,
      right: q('150', 'bar'),
      gives: [{ pointer: '/circuit', found: 'highest-signal' }],
    },
    {
      says: 'names all that is missing, also what is measured in another quantity or known of no pump',
      on: () =>
        change(adjustment(), {
          '/body/circuit': { 'oil-level': q('200', 'mm') },
          [relations]: [
            {
              ...{ id: 'much', text: 'much is known', atMost: '0' },
              sum: [{ setting: 'pressure-limit' }, { circuit: 'oil-level' }, { pump: 'nothing' }],
            },
          ],
        }),
      at: '/body/circuit',
      wrong: { 'oil-level': q('200', 'mm') },
      right: {},
      gives: [
        {
          found: 'oil-level, nothing',
          pointer: '/circuit',
          because: 'Whether much is known is not known: oil-level and nothing are missing.',
        },
      ],
    },
  ],
  'shaft-torque-over': [
    {
      // 215·83/(20π·0.92) = 308.7 N·m (recomputed).
      says: 'holds a limit at which the shaft is asked for more than it may take',
      on: () => change(adjustment(), { [`${size}/efficiency`]: { hydromechanical: '0.92', volumetric: '0.95' } }),
      at: `${size}/shaftTorqueLimit`,
      wrong: q('308', 'N.m'),
      right: q('309', 'N.m'),
      gives: [
        {
          ...{ pointer: '/settings', expected: 'at most 308 N.m', found: '308.7 N.m' },
          clearedBy: [setting('pressure-limit'), concession],
        },
      ],
    },
    {
      // The pump swivels back at 300 N·m, long before the 308.7 N·m of full displacement at 215 bar.
      says: 'takes the torque limit where it asks for less than full displacement',
      on: () =>
        change(adjustment(), {
          [`${size}/efficiency`]: { hydromechanical: '0.92', volumetric: '0.95' },
          [`${size}/shaftTorqueLimit`]: q('305', 'N.m'),
        }),
      at: '/control/events/0/effect/settings/pump~1torque-limit',
      wrong: q('306', 'N.m'),
      right: q('300', 'N.m'),
      gives: [{ found: '306.0 N.m', pointer: '/settings' }],
    },
    {
      says: 'says nothing where no pressure is known',
      on: () =>
        change(adjustment(), {
          [`${size}/efficiency`]: { hydromechanical: '0.92', volumetric: '0.95' },
          [`${size}/shaftTorqueLimit`]: q('1', 'N.m'),
          '/control/events/0/effect/settings': undefined,
        }),
      at: '/body/settings/0',
      wrong: { setting: 'pressure-limit', reading: q('215', 'bar'), instrument: 'gauge-1' },
      right: { setting: 'pump/torque-limit', reading: q('9', 'N.m'), instrument: 'stand-1' },
      gives: [{ pointer: '/settings' }],
    },
  ],
};
