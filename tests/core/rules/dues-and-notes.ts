/** Tests of the rules for evidence that is still to come, and of those that only note. */
import type { Clear } from '../../../src/core/rules/finding.ts';
import {
  adjustment,
  change,
  conversionOnPump,
  conversionOnShelf,
  inspection,
  mounting,
  q,
} from '../../support/cases.ts';
import { inEdition, type RuleTests } from './rule-test.ts';

const setting = (place: string): Clear => ({ kind: 'setting', place });
const check = (place: string): Clear[] => [
  { kind: 'check', place },
  { kind: 'not-applicable', place },
];
const recorded = '/control/events/0/effect/found';

export const duesAndNotes: RuleTests = {
  'setting-due': [
    {
      says: 'asks for the setting that the work disturbs',
      on: conversionOnPump,
      at: '/body/settings',
      wrong: [],
      right: [{ setting: 'differential', reading: q('20', 'bar'), instrument: 'gauge-1' }],
      gives: [{ pointer: '/settings', clearedBy: [setting('differential')] }],
    },
    {
      says: 'asks for a setting that the function needs and the pair is not known to have',
      on: conversionOnPump,
      at: '/control/events/0/effect/settings/pressure-limit',
      wrong: undefined,
      right: q('210', 'bar'),
      gives: [{ pointer: '/settings', clearedBy: [setting('pressure-limit')] }],
    },
    {
      says: 'asks for a setting that is known and not within what the function allows',
      on: () => change(conversionOnPump(), { '/body/found': { settings: {} } }),
      at: '/body/found/settings/pressure-limit',
      wrong: q('49', 'bar'),
      right: q('50', 'bar'),
      gives: [{ pointer: '/settings', clearedBy: [setting('pressure-limit')] }],
    },
    {
      says: 'asks for a setting that is known and not within what the fitted spring reaches',
      on: conversionOnPump,
      at: '/control/events/0/effect/settings/pressure-limit',
      wrong: q('251', 'bar'),
      right: q('250', 'bar'),
      gives: [{ pointer: '/settings', clearedBy: [setting('pressure-limit')] }],
    },
    {
      says: 'asks for every setting of the function after a mounting',
      on: mounting,
      at: '/body/settings/1/setting',
      wrong: 'pressure-limit',
      right: 'differential',
      gives: [{ pointer: '/settings', clearedBy: [setting('differential')] }],
    },
    {
      says: 'asks for the settings of a control on the shelf once it is on a pump',
      on: () => change(conversionOnShelf(), { '/body/for': undefined }),
      at: '/body/to',
      wrong: { function: 'load-sense' },
      right: null,
      gives: [
        { pointer: '/settings', clearedBy: [setting('pressure-limit')] },
        { pointer: '/settings', clearedBy: [setting('differential')] },
      ],
    },
  ],
  'joint-due': [
    {
      says: 'leaves the locknut of a setting open until it is set on a pump',
      on: conversionOnShelf,
      at: '/body/to',
      wrong: { function: 'load-sense' },
      right: null,
      gives: [{ pointer: '/torques', clearedBy: [{ kind: 'torque', place: 'sense-adjuster-locknut' }] }],
    },
  ],
  'check-due': [
    {
      says: 'asks for a check that was not done',
      on: conversionOnPump,
      at: '/body/checks/1/result',
      wrong: 'not-done',
      right: 'passed',
      gives: [{ pointer: '/checks', clearedBy: check('leak-free') }],
    },
    {
      says: 'takes a failed check as done: that is for another rule',
      on: conversionOnPump,
      at: '/body/checks/1',
      wrong: undefined,
      right: { check: 'leak-free', result: 'failed' },
      gives: [{ pointer: '/checks', clearedBy: check('leak-free') }],
    },
    {
      says: 'wants a reason of what is said not to apply',
      on: conversionOnPump,
      at: '/body/checks/3',
      wrong: { check: 'plate-marked', result: 'not-applicable' },
      right: { check: 'plate-marked', result: 'not-applicable', reason: 'the pump has no plate' },
      gives: [{ pointer: '/checks', clearedBy: check('plate-marked') }],
    },
    {
      says: 'asks for nothing of an inspection, of which the edition requires nothing',
      on: () => change(inspection(), { '/body/checks': [] }),
      at: `${inEdition('checks', 'make-safe')}/requiredBy`,
      wrong: ['conversion', 'inspection'],
      right: ['conversion', 'mounting'],
      gives: [{ pointer: '/checks', clearedBy: check('make-safe') }],
    },
    {
      says: 'asks for leak, function and plate of a control on the shelf once it is on a pump',
      on: () => change(conversionOnPump(), { '/body/checks': [{ check: 'make-safe', result: 'passed' }] }),
      at: '/body/checks',
      wrong: [{ check: 'make-safe', result: 'passed' }],
      right: ['make-safe', 'leak-free', 'function-check', 'plate-marked'].map((id) => ({
        check: id,
        result: 'passed',
      })),
      gives: [
        { pointer: '/checks', clearedBy: check('leak-free') },
        { pointer: '/checks', clearedBy: check('function-check') },
        { pointer: '/checks', clearedBy: check('plate-marked') },
      ],
    },
  ],
  'performed-ahead': [
    {
      says: 'notes work a little ahead of the service',
      on: adjustment,
      at: '/body/performedAt',
      wrong: '2026-03-14T12:00:00.000001Z',
      right: '2026-03-14T12:00:00Z',
      gives: [{ pointer: '/performedAt', found: '2026-03-14T12:00:00.000001Z' }],
    },
    {
      says: 'leaves work further ahead to the rule that refuses it',
      on: adjustment,
      at: '/body/performedAt',
      wrong: '2026-03-14T12:05:00Z',
      right: '2026-03-14T12:05:01Z',
      gives: [{ pointer: '/performedAt' }],
    },
  ],
  'content-assumed': [
    {
      says: 'notes a station that nobody has looked into',
      on: conversionOnPump,
      at: `${recorded}/pilot-seat/basis`,
      wrong: 'assumed',
      right: 'plate',
      gives: [{ pointer: '/found', because: 'What pilot-seat holds is assumed, not seen.' }],
    },
    {
      says: 'notes nothing of a station of which the function takes whatever is there',
      on: () => change(conversionOnPump(), { [`${recorded}/test-port/basis`]: 'assumed' }),
      at: `${inEdition('functions', 'load-sense')}/patterns/0/stations/test-port`,
      wrong: ['port-plug'],
      right: 'keep',
      gives: [{ pointer: '/found' }],
    },
  ],
  'seal-unknown': [
    {
      says: 'notes a seal without a name',
      on: conversionOnPump,
      at: '/body/seals/0/seal',
      wrong: { unknown: 'black, from the box' },
      right: 'seal-22-nbr',
      gives: [{ pointer: '/seals/0/seal', found: 'black, from the box' }],
    },
    {
      says: 'notes a seal without a lot',
      on: conversionOnPump,
      at: '/body/seals/0/lot',
      wrong: undefined,
      right: 'L-2311-2',
      gives: [{ pointer: '/seals/0/lot' }],
    },
    {
      says: 'notes a seal whose lot is said to be unknown',
      on: conversionOnPump,
      at: '/body/seals/0/lot',
      wrong: { unknown: 'from the drawer' },
      right: { maker: 'tollan', number: 'L-9' },
      gives: [{ pointer: '/seals/0/lot' }],
    },
  ],
  'check-not-applicable': [
    {
      says: 'notes a required check that is said not to apply',
      on: conversionOnPump,
      at: '/body/checks/3',
      wrong: { check: 'plate-marked', result: 'not-applicable', reason: 'the pump has no plate' },
      right: { check: 'plate-marked', result: 'passed', reason: 'the pump has a new plate' },
      gives: [{ pointer: '/checks/3', found: 'the pump has no plate' }],
    },
    {
      says: 'notes nothing of a check that nobody requires',
      on: () =>
        change(conversionOnPump(), { '/body/checks/3': { check: 'x', result: 'not-applicable', reason: 'no plate' } }),
      at: '/body/checks/3/check',
      wrong: 'plate-marked',
      right: 'second-look',
      gives: [{ pointer: '/checks/3', found: 'no plate' }],
    },
  ],
  'older-edition': [
    {
      says: 'notes work to an edition when a newer one was in effect',
      on: inspection,
      at: '/newerEdition',
      wrong: '2026-2',
      right: null,
      gives: [{ pointer: '/edition', expected: '2026-2', found: '2026-1' }],
    },
  ],
  'sheet-differs': [
    {
      says: 'notes a sheet that is not the one for this unit',
      on: conversionOnPump,
      at: '/body/sheet',
      wrong: 'sha256:00',
      right: undefined,
      gives: [{ pointer: '/sheet', found: 'sha256:00' }],
    },
    {
      says: 'notes no sheet where no function is declared',
      on: () => change(conversionOnPump(), { '/body/sheet': 'sha256:00' }),
      at: '/body/to',
      wrong: { function: 'load-sense' },
      right: null,
      gives: [{ pointer: '/sheet' }],
    },
    {
      says: 'notes no sheet where there can be none',
      on: () => change(conversionOnPump(), { '/body/sheet': 'sha256:00' }),
      at: '/body/to/function',
      wrong: 'load-sense',
      right: 'electric-pressure',
      gives: [{ pointer: '/sheet' }],
    },
  ],
  'superseded-kit': [
    {
      says: 'notes a part from a kit that another supersedes',
      on: conversionOnPump,
      at: '/lots/ardenholm~1L-2402-7/part',
      wrong: 'kit-remote-early',
      right: 'kit-remote',
      gives: [{ pointer: '/fitted/0/lot', expected: 'kit-remote', found: 'kit-remote-early' }],
    },
    {
      says: 'notes nothing where the lot is not known',
      on: () => change(conversionOnPump(), { '/lots/ardenholm~1L-2402-7/part': 'kit-remote-early' }),
      at: '/body/fitted/0/lot',
      wrong: 'L-2402-7',
      right: { unknown: 'from the drawer' },
      gives: [{ pointer: '/fitted/0/lot' }],
    },
  ],
};
