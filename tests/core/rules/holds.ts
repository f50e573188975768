/** Tests of the rules that hold for what sits in a unit, for its function, and for who did what. */
import type { Clear } from '../../../src/core/rules/finding.ts';
import {
  adjustment,
  built,
  change,
  conversionOnPump,
  conversionOnShelf,
  inspection,
  laterWork,
  mounting,
  q,
  takingOff,
} from '../../support/cases.ts';
import { concession, inEdition, type RuleTests } from './rule-test.ts';

const stated = (effect: Parameters<typeof laterWork>[0]) => ({ ...laterWork(effect), kind: 'registration' });
const content = (place: string): Clear => ({ kind: 'content', place });
const aFunction: Clear = { kind: 'function', place: 'control' };
const recorded = '/control/events/0/effect/found';

export const holds: RuleTests = {
  'later-work-disagrees': [
    {
      says: 'holds a record that comes late and leaves something else than the unit was registered with later',
      on: () => change(conversionOnPump(), { '/control/later': [stated({ found: built({ 'bleed-seat': {} }) })] }),
      at: '/control/later/0/effect/found/bleed-seat/elements',
      wrong: [{ element: 'orifice-0.6', quantity: 1 }],
      right: [{ element: 'plug-m5', quantity: 1 }],
      gives: [
        {
          pointer: '/performedAt',
          expected: 'orifice-0.6',
          found: 'plug-m5',
          clearedBy: [content('bleed-seat'), concession],
        },
      ],
    },
    {
      says: 'holds nothing that a registration only assumes',
      on: () => change(conversionOnPump(), { '/control/later': [stated({ found: built({ 'bleed-seat': {} }) })] }),
      at: '/control/later/0/effect/found/bleed-seat/basis',
      wrong: 'plate',
      right: 'assumed',
      gives: [{ pointer: '/performedAt', expected: 'nothing' }],
    },
    {
      says: 'holds nothing of which a registration says that it is not known',
      on: () => change(conversionOnPump(), { '/control/later': [stated({ found: built({ 'bleed-seat': {} }) })] }),
      at: '/control/later/0/effect/found/bleed-seat/elements',
      wrong: [],
      right: null,
      gives: [{ pointer: '/performedAt' }],
    },
    {
      says: 'holds nothing where work of its own comes before what is stated, since that is judged again',
      on: () => change(conversionOnPump(), { '/control/later': [stated({ found: built({ 'bleed-seat': {} }) })] }),
      at: '/control/later/0/kind',
      wrong: 'identity',
      right: 'inspection',
      gives: [{ pointer: '/performedAt', found: 'plug-m5' }],
    },
    {
      says: 'holds nothing where what is stated was put there',
      on: () => change(conversionOnPump(), { '/control/later': [stated({ found: built({ 'bleed-seat': {} }) })] }),
      at: '/control/later/0/effect',
      wrong: { found: built({ 'bleed-seat': {} }) },
      right: { changed: built({ 'bleed-seat': {} }) },
      gives: [{ pointer: '/performedAt' }],
    },
    {
      says: 'holds a station of the pump that comes late and that the pump was registered without',
      on: () => change(inspection(), { '/body/found/stations': { 'pump/linkage': [{ element: 'link-torque' }] } }),
      at: '/pump/later',
      wrong: [stated({ found: built({ 'pump/linkage': {} }) })],
      right: [],
      gives: [{ pointer: '/performedAt', found: 'link-torque', clearedBy: [content('pump/linkage'), concession] }],
    },
    {
      says: 'holds what is put on late where the pump was registered with another control',
      on: () => change(mounting(), { '/pump/later': [stated({ mounted: { with: 'unit-control', on: true } })] }),
      at: '/pump/later/0/effect/mounted/with',
      wrong: 'another',
      right: 'unit-control',
      gives: [{ pointer: '/on', clearedBy: [{ kind: 'correction', place: 'fact' }, concession] }],
    },
    {
      says: 'holds what is taken off late where an exchange took it off later',
      on: () => change(takingOff(), { '/control/later': [stated({ mounted: { with: 'unit-pump', on: true } })] }),
      at: '/control/later/0/effect/mounted/on',
      wrong: false,
      right: true,
      gives: [{ pointer: '/on' }],
    },
    {
      says: 'holds no mounting that later work can not follow: that work is judged again',
      on: () => change(takingOff(), { '/control/later': [stated({ mounted: { with: 'unit-pump', on: false } })] }),
      at: '/control/later/0/kind',
      wrong: 'registration',
      right: 'mounting',
      gives: [{ pointer: '/on' }],
    },
  ],
  'order-unknown': [
    {
      says: 'holds what leaves another part than a record of the same day, while nobody says which came last',
      on: () => change(conversionOnPump(), { '/sameTime': [laterWork({ changed: built({ 'bleed-seat': {} }) })] }),
      at: '/sameTime/0/effect/changed/bleed-seat/elements',
      wrong: [{ element: 'orifice-0.8', quantity: 1 }],
      right: [{ element: 'plug-m5', quantity: 1 }],
      gives: [
        {
          pointer: '/performedAt',
          found: 'plug-m5',
          because:
            'Nobody says whether conversion later came before this or after it: if before, plug-m5 is at bleed-seat now, if after, orifice-0.8. Say "after" which record it was done.',
          clearedBy: [content('bleed-seat'), { kind: 'correction', place: 'fact' }, concession],
        },
      ],
    },
    {
      says: 'holds nothing of which the other record does not know what it left',
      on: () => change(conversionOnPump(), { '/sameTime': [laterWork({ changed: built({ 'bleed-seat': {} }) })] }),
      at: '/sameTime/0/effect/changed/bleed-seat/elements',
      wrong: [],
      right: null,
      gives: [{ pointer: '/performedAt' }],
    },
    {
      says: 'holds nothing where the other record found something else than this one left, and so came first',
      on: () => change(conversionOnPump(), { '/sameTime': [laterWork({ changed: built({ 'bleed-seat': {} }) })] }),
      at: '/sameTime/0/effect/found',
      wrong: undefined,
      right: built({ 'bleed-seat': { 'orifice-0.6': 1 } }),
      gives: [{ pointer: '/performedAt' }],
    },
    {
      says: 'holds a setting that was read otherwise on the same day',
      on: () => change(adjustment(), { '/sameTime': [laterWork({ settings: { 'pressure-limit': q('14', 'bar') } })] }),
      at: '/sameTime/0/effect/settings',
      wrong: { 'pressure-limit': q('12', 'bar') },
      right: { 'pressure-limit': null },
      gives: [
        {
          pointer: '/performedAt',
          clearedBy: [{ kind: 'setting', place: 'pressure-limit' }, { kind: 'correction', place: 'fact' }, concession],
        },
      ],
    },
  ],
  'unrecorded-work': [
    {
      says: 'holds what was found to hold something else than the records say',
      on: inspection,
      at: '/body/found/stations/bleed-seat',
      wrong: [{ element: 'orifice-0.8' }],
      right: [{ element: 'orifice-0.6' }],
      gives: [
        {
          pointer: '/found/stations/bleed-seat',
          expected: 'orifice-0.6',
          found: 'orifice-0.8',
          clearedBy: [content('bleed-seat'), concession],
        },
      ],
    },
    {
      says: 'holds a pocket that was found to hold a piece less, in whatever order they are said',
      on: inspection,
      at: '/body/found/stations/damping-stack',
      wrong: [{ element: 'washer-damping' }, { element: 'shim-0.5' }],
      right: [{ element: 'shim-0.5' }, { element: 'washer-damping' }, { element: 'shim-0.5' }],
      gives: [
        {
          pointer: '/found/stations/damping-stack',
          expected: 'washer-damping and 2 × shim-0.5',
          found: 'washer-damping and shim-0.5',
        },
      ],
    },
    {
      says: 'holds a pump whose own station was found otherwise',
      on: () => change(mounting(), { '/body/found': { stations: {} } }),
      at: '/body/found/stations/pump~1displacement-stop',
      wrong: [],
      right: [{ element: 'stop-screw' }],
      gives: [
        {
          pointer: '/found/stations/pump~1displacement-stop',
          found: 'nothing',
          clearedBy: [content('pump/displacement-stop'), concession],
        },
      ],
    },
    {
      says: 'holds nothing where the records only assumed',
      on: () => change(inspection(), { '/body/found/stations/bleed-seat': [{ element: 'orifice-0.8' }] }),
      at: `${recorded}/bleed-seat/basis`,
      wrong: 'plate',
      right: 'assumed',
      gives: [{ pointer: '/found/stations/bleed-seat' }],
    },
    {
      says: 'holds nothing where the bench could not look',
      on: inspection,
      at: '/body/found/stations/bleed-seat',
      wrong: [],
      right: { unknown: 'the thread is torn' },
      gives: [{ pointer: '/found/stations/bleed-seat', found: 'nothing' }],
    },
  ],
  'no-function': [
    {
      says: 'holds a fit that is declared to match no function',
      on: conversionOnPump,
      at: '/body/to',
      wrong: null,
      right: { function: 'load-sense' },
      gives: [{ pointer: '/to', clearedBy: [aFunction, concession] }],
    },
    {
      says: 'holds a control that an inspection finds not to be what it was',
      on: inspection,
      at: '/body/found/stations/bleed-seat',
      wrong: [{ element: 'plug-m5' }],
      right: [{ element: 'orifice-0.8' }],
      gives: [{ pointer: '/found', because: 'What was found at bleed-seat is not load-sense-bled.' }],
    },
  ],
  'not-for-pump': [
    {
      says: 'holds a control on a pump that turns the other way than it is built for',
      on: mounting,
      at: '/control/events/0/effect/builtFor',
      wrong: { rotation: 'counterclockwise' },
      right: { rotation: 'clockwise' },
      gives: [
        {
          pointer: '/pump',
          because: 'The control is built for counterclockwise rotation, the pump turns clockwise.',
          clearedBy: [aFunction, concession],
        },
      ],
    },
    {
      says: 'holds a control on a pump of another size than it is built for',
      on: mounting,
      at: '/control/events/0/effect/builtFor',
      wrong: { size: '52' },
      right: { size: '83' },
      gives: [{ pointer: '/pump', because: 'The control is built for size 52, the pump is size 83.' }],
    },
    {
      says: 'holds a control on a size that does not take its body',
      on: mounting,
      at: '/edition/series/0/sizes/1/bodies',
      wrong: ['curlew-wedge'],
      right: ['curlew-block'],
      gives: [{ pointer: '/pump', because: "Body curlew-block doesn't go on size 83." }],
    },
    {
      says: 'holds nothing where a control comes off the pump that it is not built for',
      on: () =>
        change(mounting(), {
          '/control/events/0/effect/builtFor': { size: '52' },
          '/control/events/0/effect/mounted': { with: 'unit-pump', on: true },
        }),
      at: '/body/on',
      wrong: true,
      right: false,
      gives: [{ pointer: '/pump' }],
    },
    {
      says: 'holds a control that matches no function',
      on: mounting,
      at: '/control/events/0/effect/function',
      wrong: null,
      right: 'load-sense-bled',
      gives: [{ pointer: '/pump', because: 'K-20931 matches no function.' }],
    },
    {
      says: 'holds a control whose function depends on a voltage that nobody stated',
      on: () =>
        change(mounting(), {
          '/control/events/0/effect/function': 'electric-pressure',
          [recorded]: built(electric24),
        }),
      at: '/control/events/0/effect/builtFor',
      wrong: {},
      right: { voltage: '24 V' },
      gives: [{ pointer: '/pump' }],
    },
    {
      says: 'holds a control on a pump that still has a link which its function has not',
      on: mounting,
      at: '/pump/events/0/effect/found/pump~1linkage/elements',
      wrong: [{ element: 'link-torque', quantity: 1 }],
      right: [],
      gives: [{ pointer: '/pump', because: "pump/linkage doesn't hold what load-sense-bled demands on this pump." }],
    },
  ],
  'content-unknown': [
    {
      says: 'holds what was fitted without a name, and points at it',
      on: conversionOnPump,
      at: '/body/fitted/0/element',
      wrong: { unknown: 'no marking' },
      right: 'plug-m5',
      gives: [{ pointer: '/fitted/0/element', clearedBy: [content('bleed-seat'), concession] }],
    },
    {
      says: 'points at the one of several pieces that has no name',
      on: () =>
        change(conversionOnPump(), {
          '/body/removed/-': { station: 'damping-stack', element: 'shim-0.5', quantity: 2 },
          '/body/fitted/-': { station: 'damping-stack', element: 'shim-0.5' },
        }),
      at: '/body/fitted/2',
      wrong: { station: 'damping-stack', element: { unknown: 'worn smooth' }, lot: 'L-2402-7' },
      right: { station: 'damping-stack', element: 'shim-0.5' },
      gives: [{ pointer: '/fitted/2/element', clearedBy: [content('damping-stack'), concession] }],
    },
    {
      says: 'holds a station that nobody knows and nobody looked into',
      on: conversionOnPump,
      at: `${recorded}/pilot-seat`,
      wrong: undefined,
      right: { elements: [{ element: 'plug-m5', quantity: 1 }], basis: 'built' },
      gives: [{ pointer: '/found', clearedBy: [content('pilot-seat'), concession] }],
    },
    {
      says: "holds a mounting on a pump of which a station is not known that the control's function decides",
      on: mounting,
      at: '/pump/events/0/effect/found/pump~1torque-spring/elements',
      wrong: null,
      right: [],
      gives: [{ pointer: '/found', clearedBy: [content('pump/torque-spring'), concession] }],
    },
    {
      says: 'holds nothing for a closure that the function wants empty, and which can hold nothing',
      on: () => change(conversionOnPump(), { [`${recorded}/vent-seat`]: undefined }),
      at: `${inEdition('functions', 'load-sense')}/patterns/0/stations`,
      wrong: { 'vent-seat': 'none', 'side-cap': 'none' },
      right: { 'side-cap': 'none' },
      gives: [{ pointer: '/found', clearedBy: [content('vent-seat'), concession] }],
    },
    {
      says: 'holds nothing for a station of which the function takes whatever is there',
      on: () => change(conversionOnPump(), { [`${recorded}/test-port`]: undefined }),
      at: `${inEdition('functions', 'load-sense')}/patterns/0/stations/test-port`,
      wrong: ['port-plug'],
      right: 'keep',
      gives: [{ pointer: '/found', clearedBy: [content('test-port'), concession] }],
    },
  ],
  'technician-unknown': [
    {
      says: 'holds work of which nobody knows who did it',
      on: mounting,
      at: '/body/technician',
      wrong: { unknown: 'no name on the card' },
      right: 't-17',
      gives: [
        {
          pointer: '/technician',
          found: 'no name on the card',
          because: 'Who did the work is not known.',
          clearedBy: [concession],
        },
      ],
    },
    {
      says: 'holds a joint of which nobody knows who closed it, though the rest is known',
      on: conversionOnPump,
      at: '/body/torques/1/by',
      wrong: { unknown: 'the apprentice of that week' },
      right: 't-18',
      gives: [
        {
          pointer: '/torques/1/by',
          found: 'the apprentice of that week',
          because: 'Who did this part of the work is not known.',
          clearedBy: [concession],
        },
      ],
    },
  ],
  'lot-unknown': [
    {
      says: 'holds an element without a lot',
      on: conversionOnPump,
      at: '/body/fitted/0/lot',
      wrong: undefined,
      right: 'L-2402-7',
      gives: [{ pointer: '/fitted/0/lot', found: 'not stated' }],
    },
    {
      says: 'holds an element whose lot is said to be unknown',
      on: conversionOnShelf,
      at: '/body/fitted/0/lot',
      wrong: { unknown: 'loose from the drawer' },
      right: { maker: 'tollan', number: 'L-9' },
      gives: [{ pointer: '/fitted/0/lot', found: 'loose from the drawer' }],
    },
    {
      says: 'asks for no lot of an element that the edition does not track',
      on: () =>
        change(conversionOnPump(), {
          '/body/removed/-': { station: 'damping-stack', element: 'shim-0.5' },
          '/body/fitted/-': { station: 'damping-stack', element: 'shim-0.5' },
        }),
      at: `${inEdition('elements', 'shim-0.5')}/untracked`,
      wrong: false,
      right: true,
      gives: [{ pointer: '/fitted/1/lot' }],
    },
    {
      says: 'holds an element of which neither name nor lot is known',
      on: () => change(conversionOnPump(), { '/body/fitted/0/lot': undefined }),
      at: '/body/fitted/0',
      wrong: { station: 'bleed-seat', element: { unknown: 'no marking' } },
      right: { station: 'bleed-seat', element: { unknown: 'no marking' }, lot: 'L-2402-7' },
      gives: [{ pointer: '/fitted/0/lot', because: 'From which lot what was fitted at bleed-seat came is not known.' }],
    },
  ],
  'not-of-lot': [
    {
      says: 'holds an element that is not in the kit that its lot is of',
      on: conversionOnPump,
      at: '/lots/ardenholm~1L-2402-7/part',
      wrong: 'kit-overhaul-nbr',
      right: 'kit-sense',
      gives: [
        {
          pointer: '/fitted/0/lot',
          expected: 'seal-22-nbr or seal-14-nbr or seal-face-nbr or test-coupling',
          found: 'plug-m5',
          because: 'Lot ardenholm/L-2402-7 is of kit-overhaul-nbr, and plug-m5 is not in that.',
          clearedBy: [{ kind: 'part', place: 'bleed-seat' }, concession],
        },
      ],
    },
    {
      says: 'holds an element of a lot of another element, and asks nothing of a part that the edition does not know',
      on: conversionOnPump,
      at: '/lots/ardenholm~1L-2402-7/part',
      wrong: 'orifice-0.6',
      right: 'plug-bought-loose',
      gives: [{ pointer: '/fitted/0/lot', expected: 'orifice-0.6', found: 'plug-m5' }],
    },
    {
      says: 'takes an element of a lot of its own kind, whoever supplied it',
      on: () => change(conversionOnPump(), { '/body/fitted/0/lot': { maker: 'tollan', number: 'L-9' } }),
      at: '/lots/tollan~1L-9/part',
      wrong: 'orifice-0.8',
      right: 'plug-m5',
      gives: [{ pointer: '/fitted/0/lot', because: 'Lot tollan/L-9 is of orifice-0.8, and plug-m5 is not in that.' }],
    },
    {
      says: 'holds a seal that is not in the kit that its lot is of, until the seals of the joint are renewed',
      on: () => change(adjustment(), { '/body/seals': [], '/lots/ardenholm~1L-2311-2/part': 'kit-overhaul-nbr' }),
      at: '/body/seals/0',
      wrong: { joint: 'sense-adjuster-body', seal: 'seal-22-fkm', lot: 'L-2311-2' },
      right: { joint: 'sense-adjuster-body', seal: 'seal-22-nbr', lot: 'L-2311-2' },
      gives: [
        {
          pointer: '/seals/0/lot',
          found: 'seal-22-fkm',
          clearedBy: [{ kind: 'seal', place: 'sense-adjuster-body' }, concession],
        },
      ],
    },
    {
      says: 'asks nothing of an element that is not known',
      on: () => change(conversionOnPump(), { '/lots/ardenholm~1L-2402-7/part': 'kit-overhaul-nbr' }),
      at: '/body/fitted/0',
      wrong: { station: 'bleed-seat', element: 'plug-m5', lot: 'L-2402-7' },
      right: { station: 'bleed-seat', element: { unknown: 'no marking' }, lot: 'L-2402-7' },
      gives: [{ pointer: '/fitted/0/lot', found: 'plug-m5' }],
    },
  ],
  'check-failed': [
    {
      says: 'holds a unit that failed a check',
      on: conversionOnPump,
      at: '/body/checks/1',
      wrong: { check: 'leak-free', result: 'failed', reason: 'weeps at the cap' },
      right: { check: 'leak-free', result: 'passed' },
      gives: [
        {
          pointer: '/checks/1/result',
          because: 'leak-free failed: weeps at the cap.',
          clearedBy: [{ kind: 'check', place: 'leak-free' }, concession],
        },
      ],
    },
    {
      says: 'holds a unit by the last result of a check',
      on: () => change(inspection(), { '/body/checks/-': { check: 'second-look', result: 'failed' } }),
      at: '/body/checks/5',
      wrong: undefined,
      right: { check: 'second-look', result: 'passed' },
      gives: [{ pointer: '/checks/4/result', because: 'second-look failed.' }],
    },
  ],
  'nothing-known': [
    {
      says: 'holds a record without a name in it, and no leave to use clears that',
      on: () => change(inspection(), { '/body/torques': [], '/body/settings': [], '/body/seals': [] }),
      at: '/body/technician',
      wrong: { unknown: 'no name' },
      right: 't-17',
      gives: [{ pointer: '', clearedBy: [{ kind: 'correction', place: 'fact' }] }],
    },
    {
      says: 'is content with one instrument that is known',
      on: () => change(unnamed(), { '/body/torques/0/instrument': 'wrench-1' }),
      at: '/body/torques/0/instrument',
      wrong: { unknown: 'borrowed' },
      right: 'wrench-1',
      gives: [{ pointer: '' }],
    },
    {
      says: 'is content with one seal that is known',
      on: unnamed,
      at: '/body/seals/0/seal',
      wrong: { unknown: 'black' },
      right: 'seal-22-nbr',
      gives: [{ pointer: '' }],
    },
    {
      says: 'is content with one person who is known',
      on: unnamed,
      at: '/body/checks/0/by',
      wrong: undefined,
      right: 't-18',
      gives: [{ pointer: '' }],
    },
    {
      says: 'is content with one lot that is known',
      on: unnamed,
      at: '/body/fitted/0/lot',
      wrong: { unknown: 'from the drawer' },
      right: 'L-2402-7',
      gives: [{ pointer: '' }],
    },
  ],
};

/** A conversion in which whatever may be said to be unknown is. */
export function unnamed() {
  const unknown = { unknown: 'nobody wrote it down' };
  return change(conversionOnPump(), {
    '/body/technician': unknown,
    '/body/fitted/0/element': unknown,
    '/body/fitted/0/lot': undefined,
    '/body/seals/0/seal': unknown,
    '/body/seals/0/lot': undefined,
    '/body/torques/0/instrument': unknown,
    '/body/torques/1/instrument': unknown,
    '/body/torques/2/instrument': unknown,
    '/body/settings/0/instrument': unknown,
  });
}

const electric24 = {
  ...{ 'pressure-adjuster': { 'adjuster-250': 1 }, 'damping-stack': { 'washer-damping': 2 } },
  ...{ 'pilot-seat': { 'orifice-0.8': 1 }, 'drain-seat': { 'plug-m5': 1 }, 'vent-seat': {} },
  ...{ 'sense-adjuster': { 'adjuster-sense': 1 }, 'sense-spring': { 'spring-sense-16': 1 } },
  ...{ 'sense-bore': { 'spool-remote': 1 }, 'bleed-seat': { 'plug-m5': 1 } },
  ...{ 'coil-cavity': { 'cartridge-electric-24': 1 }, 'signal-port': { 'port-plug': 1 } },
  ...{ 'remote-port': { 'port-plug': 1 }, 'test-port': { 'port-plug': 1 } },
};
