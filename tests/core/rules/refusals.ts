/** Tests of the rules that refuse, but for those of names, which are in `names.ts`. */
import {
  adjustment,
  change,
  conversionOnPump,
  conversionOnShelf,
  inspection,
  mounting,
  q,
  takingOff,
} from '../../support/cases.ts';
import { inEdition, type RuleTests } from './rule-test.ts';

const recorded = '/control/events/0/effect/found';
const plug = [{ element: 'plug-m5' }];
const bled = [{ element: 'orifice-0.6' }];

export const refusals: RuleTests = {
  'unit-wrong': [
    {
      says: 'refuses a pressure read in a unit of current, and takes it in any unit of pressure',
      on: adjustment,
      at: '/body/settings/0/reading',
      wrong: q('215', 'mA'),
      right: q('3118', 'psi'),
      gives: [{ pointer: '/settings/0/reading/unit', expected: 'pressure', found: 'mA' }],
    },
    {
      says: 'refuses a setting found in a unit of another quantity',
      on: conversionOnPump,
      at: '/body/found',
      wrong: { settings: { 'pump/torque-limit': q('200', 'bar') } },
      right: { settings: { 'pump/torque-limit': q('200', 'N.m') } },
      gives: [{ pointer: '/found/settings/pump~1torque-limit/unit', expected: 'torque', found: 'bar' }],
    },
    {
      says: 'refuses a bore that is no length, and judges it by nothing else',
      on: conversionOnPump,
      at: '/body/fitted/0/measured',
      wrong: { bore: q('0.6', 'bar') },
      right: { bore: q('600', 'um'), length: q('9', 'bar') },
      gives: [
        {
          ...{ pointer: '/fitted/0/measured/bore/unit', expected: 'length', found: 'bar' },
          because: 'a bore is read as length; bar measures pressure.',
        },
      ],
    },
  ],
  'edition-not-in-effect': [
    {
      says: 'refuses work done a microsecond before the day on which its edition took effect',
      on: conversionOnPump,
      at: '/body/performedAt',
      wrong: '2025-12-31T23:59:59.999999Z',
      right: '2026-01-01T00:00:00Z',
      gives: [{ pointer: '/edition', found: 'in effect from 2026-01-01' }],
    },
  ],
  'reference-used': [
    {
      says: 'refuses a reference that another record has',
      on: adjustment,
      at: '/referenceUsedBy',
      wrong: 'record-1',
      right: null,
      gives: [{ pointer: '/reference', found: 'record-1' }],
    },
  ],
  'performed-in-future': [
    {
      says: 'refuses work more than five minutes ahead of the service, and takes five',
      on: mounting,
      at: '/body/performedAt',
      wrong: '2026-03-14T12:05:00.000001Z',
      right: '2026-03-14T12:05:00Z',
      gives: [{ pointer: '/performedAt', found: '2026-03-14T12:05:00.000001Z' }],
    },
    {
      says: 'takes a day that is not over yet, and refuses tomorrow',
      on: mounting,
      at: '/body/performedAt',
      wrong: { at: '2026-03-15T10:00:00Z', precision: 'day' },
      right: { at: '2026-03-14T10:00:00Z', precision: 'day' },
      gives: [{ pointer: '/performedAt' }],
    },
  ],
  'before-unit-existed': [
    {
      says: 'refuses work on a control before it was built',
      on: conversionOnPump,
      at: '/control/events/0/effect/builtAt',
      wrong: '2026-03-14T09:25:00.000001Z',
      right: '2026-03-14T09:25:00.000000Z',
      gives: [{ pointer: '/performedAt', because: 'K-20931 was built on 2026-03-14T09:25:00.000001Z.' }],
    },
    {
      says: 'refuses work on a pump before it was built',
      on: conversionOnPump,
      at: '/pump/events/0/effect/builtAt',
      wrong: '2026-04-01T00:00:00.000000Z',
      right: undefined,
      gives: [{ pointer: '/performedAt', because: 'P-4410 was built on 2026-04-01T00:00:00.000000Z.' }],
    },
  ],
  'found-needed': [
    {
      says: 'asks for stations where another function is found than the records have',
      on: inspection,
      at: '/body/found',
      wrong: { function: 'load-sense' },
      right: { function: 'load-sense-bled' },
      gives: [
        { pointer: '/found/function', expected: 'load-sense-bled', found: 'load-sense' },
        { pointer: '/found/function', expected: 'bleed-seat: orifice-0.6', found: 'load-sense' },
      ],
    },
    {
      says: 'asks for stations also where a list of them is given that is empty',
      on: () => change(inspection(), { [`${recorded}/bleed-seat`]: undefined }),
      at: '/body/found',
      wrong: { function: 'load-sense', stations: {} },
      right: { function: 'load-sense', stations: { 'bleed-seat': plug } },
      gives: [{ pointer: '/found/function', expected: 'load-sense-bled', found: 'load-sense' }],
    },
    {
      says: 'asks for the station where the function found has something else there than the records',
      on: () => change(conversionOnPump(), { '/body/found': { function: 'load-sense-bled' } }),
      at: '/control/events/0/effect/found/pilot-seat/elements',
      wrong: [{ element: 'orifice-0.8', quantity: 1 }],
      right: null,
      gives: [{ pointer: '/found/function', expected: 'pilot-seat: orifice-0.8', found: 'load-sense-bled' }],
    },
    {
      says: 'asks for the station where the records have it empty',
      on: () => change(conversionOnPump(), { '/body/found': { function: 'load-sense-bled' } }),
      at: '/control/events/0/effect/found/remote-port/elements',
      wrong: [],
      right: [{ element: 'port-plug', quantity: 1 }],
      gives: [{ pointer: '/found/function', expected: 'remote-port: nothing' }],
    },
    {
      says: 'asks for the station where something is taken out that the records do not have there',
      on: conversionOnPump,
      at: '/body/removed/0/element',
      wrong: 'orifice-0.8',
      right: 'orifice-0.6',
      gives: [{ pointer: '/removed/0', expected: 'bleed-seat: orifice-0.6', found: '1 × orifice-0.8' }],
    },
    {
      says: 'asks for the station where more is taken out than the records have there',
      on: () =>
        change(conversionOnPump(), {
          '/body/removed/-': { station: 'damping-stack', element: 'shim-0.5', quantity: 1 },
        }),
      at: '/body/removed/1/quantity',
      wrong: 3,
      right: 2,
      gives: [
        {
          pointer: '/removed/1',
          expected: 'damping-stack: washer-damping and 2 × shim-0.5',
          found: '3 × shim-0.5',
        },
      ],
    },
    {
      says: 'asks for the station where one piece is taken out twice, and takes two of the two that are there',
      on: () => change(conversionOnPump(), { '/body/removed/-': { station: 'damping-stack', element: 'shim-0.5' } }),
      at: '/body/removed/2',
      wrong: { station: 'damping-stack', element: 'shim-0.5', quantity: 2 },
      right: { station: 'damping-stack', element: 'shim-0.5' },
      gives: [{ pointer: '/removed/2', found: '3 × shim-0.5' }],
    },
    {
      says: 'counts each element for itself, and at its own station',
      on: () =>
        change(conversionOnPump(), {
          '/body/removed/-': { station: 'damping-stack', element: 'shim-0.5', quantity: 2 },
          '/control/events/0/effect/found/pilot-seat/elements': [{ element: 'orifice-0.6', quantity: 1 }],
        }),
      at: '/body/removed/2',
      wrong: { station: 'damping-stack', element: 'washer-damping', quantity: 2 },
      right: { station: 'damping-stack', element: 'washer-damping', quantity: 1 },
      gives: [{ pointer: '/removed/2', found: '2 × washer-damping' }],
    },
    {
      says: 'asks for the station where something is taken out that the function found has not there',
      on: () =>
        change(conversionOnPump(), {
          '/body/found': { function: 'load-sense-bled' },
          [`${recorded}/bleed-seat`]: undefined,
        }),
      at: '/body/removed/0/element',
      wrong: 'plug-m5',
      right: 'orifice-0.6',
      gives: [
        {
          pointer: '/removed/0',
          because:
            'load-sense-bled has orifice-0.6 at bleed-seat, and plug-m5 was taken out. State under found.stations what was found there.',
        },
      ],
    },
    {
      says: 'asks for the station where something is taken out of what only gives access',
      on: conversionOnPump,
      at: '/body/removed/1',
      wrong: { station: 'side-cap', element: 'plug-m5' },
      right: { station: 'side-cap', element: { unknown: 'dirt, perhaps' } },
      gives: [{ pointer: '/removed/1', expected: 'side-cap: nothing', found: '1 × plug-m5' }],
    },
  ],
  'removed-not-there': [
    {
      says: 'refuses to take one piece out twice',
      on: () => change(conversionOnPump(), { '/body/found': { stations: { 'bleed-seat': bled } } }),
      at: '/body/removed/1',
      wrong: { station: 'bleed-seat', element: 'orifice-0.6' },
      right: undefined,
      gives: [{ pointer: '/removed/1', expected: 'orifice-0.6', found: '2 × orifice-0.6' }],
    },
    {
      says: 'refuses to take out what was found not to be there',
      on: () => change(conversionOnPump(), { '/body/found': { stations: { 'bleed-seat': bled } } }),
      at: '/body/removed/0/element',
      wrong: 'orifice-0.8',
      right: 'orifice-0.6',
      gives: [{ pointer: '/removed/0', expected: 'orifice-0.6', found: '1 × orifice-0.8' }],
    },
  ],
  'element-not-accepted': [
    {
      says: 'refuses an element that its station cannot hold',
      on: conversionOnPump,
      at: '/body/fitted/0/element',
      wrong: 'orifice-1.0',
      right: 'orifice-0.8',
      gives: [
        { pointer: '/fitted/0/element', expected: 'plug-m5 or orifice-0.6 or orifice-0.8', found: 'orifice-1.0' },
      ],
    },
    {
      says: 'refuses a statement that a station on the pump holds what it cannot hold',
      on: inspection,
      at: '/body/found/stations',
      wrong: { 'pump/torque-spring': [{ element: 'spring-torque-124' }] },
      right: { 'pump/torque-spring': [{ element: 'spring-torque-83' }] },
      gives: [{ pointer: '/found/stations/pump~1torque-spring/0/element', found: 'spring-torque-124' }],
    },
    {
      says: 'refuses anything in what only gives access',
      on: inspection,
      at: '/body/found/stations',
      wrong: { 'side-cap': plug },
      right: { 'side-cap': [] },
      gives: [{ pointer: '/found/stations/side-cap/0/element', expected: 'nothing', found: 'plug-m5' }],
    },
  ],
  'two-in-one-seat': [
    {
      says: 'refuses to put something into a seat from which nothing was taken',
      on: conversionOnPump,
      at: '/body/removed',
      wrong: [],
      right: [{ station: 'bleed-seat', element: 'orifice-0.6' }],
      gives: [{ pointer: '/fitted/0', expected: 'at most 1 at bleed-seat', found: 'orifice-0.6 and plug-m5' }],
    },
    {
      says: 'points at the last of two that were put into one seat',
      on: conversionOnPump,
      at: '/body/fitted/1',
      wrong: { station: 'bleed-seat', element: 'plug-m5', lot: 'L-2402-7' },
      right: undefined,
      gives: [{ pointer: '/fitted/1', found: '2 × plug-m5' }],
    },
    {
      says: 'refuses more pieces than a pocket has room for',
      on: () =>
        change(conversionOnPump(), {
          '/body/fitted/-': { station: 'damping-stack', element: 'shim-0.5', quantity: 1 },
        }),
      at: '/body/fitted/1/quantity',
      wrong: 2,
      right: 1,
      gives: [
        { pointer: '/fitted/1', expected: 'at most 4 at damping-stack', found: 'washer-damping and 4 × shim-0.5' },
      ],
    },
    {
      says: 'refuses to have found two pieces in one seat',
      on: inspection,
      at: '/body/found/stations/bleed-seat',
      wrong: [{ element: 'orifice-0.6' }, { element: 'plug-m5' }],
      right: [{ element: 'orifice-0.6' }],
      gives: [
        {
          pointer: '/found/stations/bleed-seat',
          expected: 'at most 1 at bleed-seat',
          found: 'orifice-0.6 and plug-m5',
        },
      ],
    },
    {
      says: 'asks what was found where the records have two pieces in one seat',
      on: inspection,
      at: '/control/events/0/effect/found/pilot-seat/elements',
      wrong: [{ element: 'plug-m5', quantity: 2 }],
      right: [{ element: 'plug-m5', quantity: 1 }],
      gives: [{ pointer: '/found', expected: 'at most 1 at pilot-seat' }],
    },
    {
      says: 'refuses to have found two links on a pump, though one was taken out',
      on: () => change(conversionOnPump(), { '/body/removed/-': { station: 'pump/linkage', element: 'link-torque' } }),
      at: '/body/found',
      wrong: { stations: { 'pump/linkage': [{ element: 'link-torque', quantity: 2 }] } },
      right: { stations: { 'pump/linkage': [{ element: 'link-torque' }] } },
      gives: [{ pointer: '/found/stations/pump~1linkage', found: '2 × link-torque' }],
    },
  ],
  'function-not-offered': [
    {
      says: 'refuses a function that another body has and this one has not',
      on: () => change(conversionOnPump(), { '/control/events/0/effect/born/body': 'curlew-wedge' }),
      at: '/body/to/function',
      wrong: 'load-sense',
      right: 'remote-pressure',
      gives: [{ pointer: '/to/function', expected: 'pressure-limit or load-sense-bled or remote-pressure' }],
    },
    {
      says: 'refuses every function of a body that depends on a rotation while none is stated',
      on: () =>
        change(conversionOnShelf(), {
          '/control/events/0/effect/born/body': 'curlew-wedge',
          '/body/to/function': 'load-sense-bled',
        }),
      at: '/body/for',
      wrong: undefined,
      right: { rotation: 'clockwise' },
      gives: [
        {
          pointer: '/to/function',
          expected: null,
          because:
            "Body curlew-wedge can't have load-sense-bled while its rotation (clockwise or counterclockwise) is not stated. It can have: none.",
        },
      ],
    },
    {
      says: 'refuses torque limiting on a size without a linkage',
      on: () => change(conversionOnPump(), { '/body/to/function': 'torque-limit' }),
      at: '/pump/events/0/effect/born/size',
      wrong: '52',
      right: '83',
      gives: [{ pointer: '/to/function' }],
    },
    {
      says: 'refuses a function that depends on a voltage while none is stated',
      on: () => change(conversionOnShelf(), { '/body/to/function': 'electric-pressure' }),
      at: '/body/for/voltage',
      wrong: undefined,
      right: '24 V',
      gives: [{ pointer: '/to/function' }],
    },
    {
      says: 'refuses to convert to a function that the edition has retired',
      on: conversionOnPump,
      at: `${inEdition('functions', 'load-sense')}/retired`,
      wrong: true,
      right: undefined,
      gives: [{ pointer: '/to/function' }],
    },
    {
      says: 'does not ask an inspection for the voltage of a function that the records have',
      on: () => change(inspection(), { '/control/events/0/effect/function': 'electric-pressure' }),
      at: '/body/found/function',
      wrong: 'electric-pressure',
      right: undefined,
      gives: [{ pointer: '/found/function' }],
    },
    {
      says: 'refuses to have found a function that the pump at hand cannot have',
      on: inspection,
      at: '/body/found/function',
      wrong: 'electric-pressure',
      right: 'load-sense-bled',
      gives: [{ pointer: '/found/function' }],
    },
  ],
  'not-as-declared': [
    {
      says: 'refuses a function whose pattern the parts do not make',
      on: conversionOnPump,
      at: '/body/to/function',
      wrong: 'load-sense-bled',
      right: 'load-sense',
      gives: [
        {
          pointer: '/to/function',
          expected: 'bleed-seat: orifice-0.6 or orifice-0.8',
          found: 'bleed-seat: plug-m5',
        },
      ],
    },
    {
      says: 'refuses a part left in that the function has not',
      on: () => change(conversionOnPump(), { '/control/events/0/effect/found/vent-seat/elements': plug1() }),
      at: '/body/removed/-',
      wrong: { station: 'damping-stack', element: 'shim-0.5', quantity: 2 },
      right: { station: 'vent-seat', element: 'plug-m5' },
      gives: [
        {
          pointer: '/to/function',
          expected: 'damping-stack: 1 × washer-damping and 2 × shim-0.5',
          found: 'damping-stack: washer-damping',
        },
        { pointer: '/to/function', expected: 'vent-seat: nothing', found: 'vent-seat: plug-m5' },
      ],
    },
    {
      says: 'refuses a stack without the piece that it must have, and takes one without those that it may have',
      on: () =>
        change(conversionOnPump(), {
          [`${inEdition('functions', 'load-sense')}/patterns/0/stations/damping-stack`]: [
            { element: 'washer-damping', quantity: 1 },
            { element: 'shim-0.5', upTo: 2 },
          ],
        }),
      at: '/body/removed/-',
      wrong: { station: 'damping-stack', element: 'washer-damping' },
      right: { station: 'damping-stack', element: 'shim-0.5', quantity: 2 },
      gives: [
        {
          pointer: '/to/function',
          expected: 'damping-stack: 1 × washer-damping and up to 2 × shim-0.5',
          found: 'damping-stack: 2 × shim-0.5',
        },
      ],
    },
  ],
  'way-not-open': [
    {
      says: 'refuses a change at a station to which nothing was opened',
      on: conversionOnPump,
      at: '/body/opened',
      wrong: ['side-cap'],
      right: ['sense-adjuster'],
      gives: [{ pointer: '/opened', found: 'side-cap, bleed-seat' }],
    },
    {
      says: 'refuses a look into a bore while its spring is in place',
      on: inspection,
      at: '/body/opened',
      wrong: ['sense-adjuster', 'sense-bore'],
      right: ['sense-adjuster', 'sense-spring', 'sense-bore'],
      gives: [{ pointer: '/opened', found: 'sense-adjuster, sense-bore' }],
    },
  ],
  'on-two-pumps': [
    {
      says: 'refuses to put a control on a second pump',
      on: mounting,
      at: '/elsewhere/underControl',
      wrong: 'P-1',
      right: null,
      gives: [{ pointer: '/control', found: 'P-1' }],
    },
    {
      says: 'refuses to put a second control on a pump',
      on: mounting,
      at: '/elsewhere/onPump',
      wrong: 'K-1',
      right: null,
      gives: [{ pointer: '/pump', found: 'K-1' }],
    },
    {
      says: 'refuses to take a control off a pump that it is not on',
      on: takingOff,
      at: '/control/events/0/effect/mounted/with',
      wrong: 'unit-of-another-pump',
      right: 'unit-pump',
      gives: [{ pointer: '/control' }],
    },
    {
      says: 'refuses to take a control off while no pump is known under it',
      on: takingOff,
      at: '/pump',
      wrong: null,
      right: takingOff().pump,
      gives: [{ pointer: '/control', because: 'By the records K-20931 is not on a pump.' }],
    },
    {
      says: 'refuses to take off a control that is on no pump',
      on: takingOff,
      at: '/control/events/0/effect/mounted',
      wrong: undefined,
      right: { with: 'unit-pump', on: true },
      gives: [{ pointer: '/control' }],
    },
  ],
  'name-taken': [
    {
      says: 'refuses to tie a tag to a control that is on another',
      on: () => change(takingOff(), { '/body/tag': 'T-1' }),
      at: '/tagTakenBy',
      wrong: 'K-9',
      right: undefined,
      gives: [{ pointer: '/tag', found: 'K-9' }],
    },
  ],
  'tag-needed': [
    {
      says: 'refuses to take off a control without a serial while no tag is given',
      on: () => change(takingOff(), { '/control/hasName': false }),
      at: '/body/tag',
      wrong: undefined,
      right: 'BR-T-12',
      gives: [{ pointer: '/tag' }],
    },
    {
      says: 'asks for no tag where the control has a serial',
      on: takingOff,
      at: '/control/hasName',
      wrong: false,
      right: true,
      gives: [{ pointer: '/tag' }],
    },
    {
      says: 'asks for no tag where a control is put on',
      on: () => change(takingOff(), { '/control/hasName': false }),
      at: '/body/on',
      wrong: false,
      right: true,
      gives: [{ pointer: '/tag' }],
    },
  ],
};

function plug1() {
  return [{ element: 'plug-m5', quantity: 1 }];
}
