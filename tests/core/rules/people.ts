/** Tests of the rules on people and shops: who may do what, where, and who may look at it. */
import type { Clear } from '../../../src/core/rules/finding.ts';
import {
  adjustment,
  change,
  conversionOnPump,
  conversionOnShelf,
  inspection,
  mounting,
  q,
  type Setup,
} from '../../support/cases.ts';
import { concession, inEdition, type RuleTest, type RuleTests } from './rule-test.ts';

const authorisation: Clear = { kind: 'authorisation', place: 'person-17' };
const approval: Clear = { kind: 'approval', place: 'brackwater-north' };
const year = { from: '2026-01-01T00:00:00.000000Z', until: '2027-01-01T00:00:00.000000Z' };
// The records of these tests are made on 14 March 2026 at 09:25 UTC.
const workedAt = '2026-03-14T09:25:00.000000Z';
const justAfter = '2026-03-14T09:25:00.000001Z';
const march = { at: '2026-03-14T10:25:00+01:00', precision: 'month' };

const leave = (tasks: readonly string[], more: object = {}) => ({ id: 'a-1', tasks, scope: {}, ...year, ...more });
const allowed = (...authorisations: object[]) => ({ id: 'person-17', subject: null, authorisations });
/** Where only this task is asked for, and t-17 is authorised for it all year. */
const asking = (setup: Setup, task: string, authorisations: object[] = [leave([task])]) =>
  change(setup, { '/edition/demands': { authorised: [task] }, '/technicians/t-17': allowed(...authorisations) });

function authorised(says: string, on: () => Setup, wrong: object, right: object): RuleTest {
  return {
    ...{ says, on, at: '/technicians/t-17/authorisations/0', wrong, right },
    gives: [{ pointer: '/technician', found: 'person-17', clearedBy: [authorisation, concession] }],
  };
}

const assembling = () => asking(conversionOnPump(), 'assemble');
const approving = (setup: Setup = conversionOnPump()) =>
  change(setup, { '/edition/demands': { approvedShops: true }, '/approvals': [approved()] });
const approved = (more: object = {}) => ({ id: 'p-1', shop: 'brackwater-north', scope: {}, ...year, ...more });
const secondLook = (more: object) => ({ check: 'second-look', result: 'passed', ...more });

export const people: RuleTests = {
  'technician-not-authorised': [
    {
      says: 'holds assembling by somebody whom nobody has authorised, once for all that he did',
      on: assembling,
      at: '/technicians/t-17/authorisations',
      wrong: [],
      right: [leave(['inspect', 'assemble'])],
      gives: [
        {
          pointer: '/technician',
          expected: 'assemble',
          found: 'person-17',
          because: 'Who did this was not authorised to assemble when it was done.',
          clearedBy: [authorisation, concession],
        },
      ],
    },
    {
      says: 'says nothing where the edition does not ask for it',
      on: () => change(conversionOnPump(), { '/edition/demands': { authorised: ['assemble'] } }),
      at: '/edition/demands',
      wrong: { authorised: ['assemble'] },
      right: { authorised: ['electrical'], calibrated: true },
      gives: [{ pointer: '/technician' }],
    },
    authorised('asks for the task itself', assembling, leave(['set-pressure', 'electrical']), leave(['assemble'])),
    authorised(
      'counts up to the end, without it',
      assembling,
      leave(['assemble'], { until: workedAt }),
      leave(['assemble'], { until: justAfter }),
    ),
    authorised(
      'counts from the beginning, with it',
      assembling,
      leave(['assemble'], { from: justAfter }),
      leave(['assemble'], { from: workedAt }),
    ),
    authorised(
      'counts until it is withdrawn where no end is stated',
      assembling,
      leave(['assemble'], { until: '2025-12-31T00:00:00.000000Z' }),
      leave(['assemble'], { until: null }),
    ),
    authorised(
      'counts never where it is withdrawn before it begins',
      assembling,
      leave(['assemble'], { from: workedAt, until: '2026-03-01T00:00:00.000000Z' }),
      leave(['assemble'], { from: workedAt }),
    ),
    {
      says: 'takes two that follow each other for a month in which the work was done, and not two with a gap',
      on: () =>
        asking(change(conversionOnPump(), { '/body/performedAt': march }), 'assemble', [
          leave(['assemble'], { from: '2026-03-10T00:00:00.000000Z' }),
          leave(['assemble'], { until: '2026-03-10T00:00:00.000000Z' }),
          leave(['assemble'], { until: '2026-02-10T00:00:00.000000Z' }),
          leave(['assemble'], { from: '2026-02-01T00:00:00.000000Z', until: '2026-03-05T00:00:00.000000Z' }),
        ]),
      at: '/technicians/t-17/authorisations/0/from',
      wrong: '2026-03-10T00:00:00.000001Z',
      right: '2026-03-10T00:00:00.000000Z',
      gives: [{ pointer: '/technician', because: expectUnknown('assemble') }],
    },
    authorised(
      'goes by the maker',
      assembling,
      leave(['assemble'], { scope: { makers: ['other-maker'] } }),
      leave(['assemble'], { scope: { makers: ['other-maker', 'ardenholm'] } }),
    ),
    authorised(
      'goes by the series',
      assembling,
      leave(['assemble'], { scope: { series: ['plover'] } }),
      leave(['assemble'], { scope: { series: ['curlew'] } }),
    ),
    authorised(
      'goes by the body',
      assembling,
      leave(['assemble'], { scope: { bodies: ['curlew-wedge'] } }),
      leave(['assemble'], { scope: { bodies: ['curlew-block'] } }),
    ),
    authorised(
      'goes by the function that the work leaves',
      assembling,
      leave(['assemble'], { scope: { functions: ['load-sense-bled'] } }),
      leave(['assemble'], { scope: { functions: ['load-sense'] } }),
    ),
    authorised(
      'goes by the function found where none is declared',
      () => asking(inspection(), 'assemble'),
      leave(['assemble'], { scope: { functions: ['remote-pressure'] } }),
      leave(['assemble'], { scope: { functions: ['load-sense-bled'] } }),
    ),
    {
      says: 'does not know which function it is where none is left',
      on: () => asking(conversionOnPump(), 'assemble', [leave(['assemble'], { scope: { functions: ['load-sense'] } })]),
      at: '/body/to',
      wrong: null,
      right: { function: 'load-sense' },
      gives: [{ pointer: '/technician', because: expectUnknown('assemble') }],
    },
    {
      says: 'does not know which series a control on the shelf is for where its body is for two',
      on: () =>
        asking(
          change(conversionOnShelf(), { '/edition/series/-': { ...secondSeries(), id: 'curlew-two' } }),
          'assemble',
          [leave(['assemble'], { scope: { series: ['curlew'] } })],
        ),
      at: '/technicians/t-17/authorisations/0/scope/series',
      wrong: ['curlew'],
      right: ['curlew', 'curlew-two'],
      gives: [{ pointer: '/technician', because: expectUnknown('assemble') }],
    },
    {
      says: 'goes by whom and when a line has for itself',
      on: () =>
        change(asking(conversionOnPump(), 'assemble'), {
          '/technicians/t-18': { id: 'person-18', subject: null, authorisations: [leave(['assemble'])] },
          '/body/torques/1/by': 't-18',
          '/body/torques/1/at': '2026-12-31T10:00:00Z',
        }),
      at: '/body/torques/1/at',
      wrong: '2027-01-01T10:00:00Z',
      right: '2026-12-31T10:00:00Z',
      gives: [
        {
          pointer: '/torques/1/by',
          found: 'person-18',
          clearedBy: [{ kind: 'authorisation', place: 'person-18' }, concession],
        },
      ],
    },
    {
      says: 'points at the time of a line that has one',
      on: assembling,
      at: '/body/seals/0/at',
      wrong: '2025-12-31T10:00:00Z',
      right: undefined,
      gives: [{ pointer: '/seals/0/at' }],
    },
    {
      says: 'says nothing of somebody who is not known',
      on: () => asking(conversionOnPump(), 'assemble', []),
      at: '/body/technician',
      wrong: 't-17',
      right: { unknown: 'no initials' },
      gives: [{ pointer: '/technician' }],
    },
    {
      says: 'asks who sets a pressure, and not who closes a joint',
      on: () => change(asking(adjustment(), 'set-pressure'), { '/technicians/t-18': allowed() }),
      at: '/body/settings/0/by',
      wrong: 't-18',
      right: 't-17',
      gives: [
        {
          pointer: '/settings/0/by',
          expected: 'set-pressure',
          because: 'Who did this was not authorised to set pressures when it was done.',
        },
      ],
    },
    {
      says: 'takes a setting of an electric quantity for electrical work',
      on: () => {
        const electric = change(adjustment(), {
          '/edition/bodies/0/settings/0/quantity': 'current',
          '/body/settings/0/reading': q('650', 'mA'),
        });
        return change(asking(electric, 'electrical'), {
          '/edition/demands/authorised': ['electrical', 'set-pressure'],
        });
      },
      at: '/technicians/t-17/authorisations/0/tasks',
      wrong: ['set-pressure'],
      right: ['electrical'],
      gives: [{ pointer: '/technician', expected: 'electrical' }],
    },
    {
      says: 'goes by the last line of a joint or setting',
      on: () =>
        change(asking(adjustment(), 'set-pressure'), {
          '/technicians/t-18': allowed(),
          '/body/settings/0/by': 't-18',
          '/edition/demands/authorised': ['set-pressure', 'assemble'],
          '/technicians/t-17': allowed(leave(['set-pressure', 'assemble'])),
          '/body/torques/-': {
            ...{ joint: 'pressure-adjuster-locknut', how: 'set', reading: q('21', 'N.m'), instrument: 'wrench-1' },
          },
          '/body/torques/0/by': 't-18',
          '/body/settings/-': { setting: 'pressure-limit', reading: q('215', 'bar'), instrument: 'gauge-1' },
        }),
      at: '/body/settings/1',
      wrong: undefined,
      right: { setting: 'pressure-limit', reading: q('215', 'bar'), instrument: 'gauge-1' },
      gives: [{ pointer: '/settings/0/by' }],
    },
    {
      says: 'asks who makes a check that is left to somebody else, and nobody where it was not done',
      on: () =>
        change(asking(conversionOnPump(), 'inspect'), {
          '/technicians/t-18': { id: 'person-17', subject: null, authorisations: [] },
          '/body/checks/-': secondLook({ by: 't-18' }),
        }),
      at: '/body/checks/4/result',
      wrong: 'passed',
      right: 'not-done',
      gives: [{ pointer: '/checks/4/by', expected: 'inspect' }],
    },
    {
      says: 'takes putting on a pump for assembling, torques or not',
      on: () => change(asking(mounting(), 'assemble'), { '/body/torques': [], '/body/seals': [] }),
      at: '/technicians/t-17/authorisations',
      wrong: [],
      right: [leave(['assemble'])],
      gives: [{ pointer: '/technician' }],
    },
  ],
  'shop-not-approved': [
    {
      says: 'holds work in a shop that the maker has not approved',
      on: approving,
      at: '/approvals',
      wrong: [approved({ shop: 'brackwater-east' })],
      right: [approved()],
      gives: [
        {
          pointer: '/shop',
          found: 'brackwater-north',
          because: 'ardenholm had not approved brackwater-north for this work when it was done.',
          clearedBy: [approval, concession],
        },
      ],
    },
    {
      says: 'says nothing where the edition does not ask for it',
      on: () => change(approving(), { '/approvals': [] }),
      at: '/edition/demands',
      wrong: { approvedShops: true },
      right: { approvedShops: false },
      gives: [{ pointer: '/shop' }],
    },
    {
      says: 'goes by the time of the work',
      on: approving,
      at: '/approvals/0/until',
      wrong: workedAt,
      right: justAfter,
      gives: [{ pointer: '/shop' }],
    },
    {
      says: 'goes by the series, and does not know where it could be another',
      on: () =>
        change(approving(conversionOnShelf()), {
          '/edition/series/-': { ...secondSeries(), id: 'curlew-two' },
        }),
      at: '/approvals/0/scope',
      wrong: { series: ['curlew'] },
      right: { series: ['curlew', 'curlew-two'] },
      gives: [
        {
          pointer: '/shop',
          because:
            'It is not known whether ardenholm had approved brackwater-north for this work: that is so for a part only of the time, or of the series, that the record leaves open.',
        },
      ],
    },
  ],
  'inspected-by-fitter': [
    {
      says: 'holds a check that is left to somebody else and was made by who fitted, until somebody else passes it',
      on: () => change(conversionOnPump(), { '/body/checks/-': secondLook({ by: 't-18' }) }),
      at: '/body/checks/4',
      wrong: secondLook({}),
      right: secondLook({ by: 't-18' }),
      gives: [
        {
          pointer: '/checks/4',
          found: 'who did the work',
          because: 'second-look was answered by somebody who did this work.',
          clearedBy: [{ kind: 'check', place: 'second-look' }, concession],
        },
      ],
    },
    {
      says: 'lets anybody make a check that is not left to somebody else',
      on: () => change(conversionOnPump(), { '/body/checks/-': secondLook({}) }),
      at: `${inEdition('checks', 'second-look')}/by`,
      wrong: 'other-than-fitter',
      right: 'anyone',
      gives: [{ pointer: '/checks/4' }],
    },
    ...(['fitted', 'seals', 'torques'] as const).map(
      (list): RuleTest => ({
        says: `knows by a line of its own who is among those who did the work: ${list}`,
        on: () => change(conversionOnPump(), { '/body/checks/-': secondLook({ by: 't-18' }) }),
        at: `/body/${list}/0/by`,
        wrong: 't-18',
        right: undefined,
        gives: [{ pointer: '/checks/4/by' }],
      }),
    ),
    {
      says: 'knows who closed a joint that another closed again',
      on: () =>
        change(inspection(), {
          '/body/seals': [],
          '/body/torques': [
            { joint: 'sense-adjuster-body', how: 'set', reading: q('61', 'N.m'), instrument: 'wrench-1' },
            { joint: 'sense-adjuster-body', how: 'set', reading: q('61', 'N.m'), instrument: 'wrench-1', by: 't-18' },
          ],
          '/body/checks': [secondLook({})],
        }),
      at: '/body/torques/0/by',
      wrong: undefined,
      right: 't-18',
      gives: [{ pointer: '/checks/0' }],
    },
    {
      says: 'goes by the last answer of a check',
      on: () =>
        change(conversionOnPump(), {
          '/body/checks/-': secondLook({}),
        }),
      at: '/body/checks/5',
      wrong: undefined,
      right: secondLook({ by: 't-18' }),
      gives: [{ pointer: '/checks/4' }],
    },
    {
      says: 'asks nothing of a check that was not done',
      on: () => change(conversionOnPump(), { '/body/checks/-': secondLook({}) }),
      at: '/body/checks/4/result',
      wrong: 'not-applicable',
      right: 'not-done',
      gives: [{ pointer: '/checks/4' }],
    },
    {
      says: 'lets who did nothing else in the record make it',
      on: () => change(inspection(), { '/body/seals': [], '/body/checks': [secondLook({})] }),
      at: '/body/torques',
      wrong: [{ joint: 'sense-adjuster-body', how: 'set', reading: q('61', 'N.m'), instrument: 'wrench-1' }],
      right: [],
      gives: [{ pointer: '/checks/0' }],
    },
    {
      says: 'does not know it of a check that nobody has signed',
      on: () => change(conversionOnPump(), { '/body/checks/-': secondLook({}) }),
      at: '/body/checks/4/by',
      wrong: { unknown: 'no initials' },
      right: 't-18',
      gives: [
        {
          pointer: '/checks/4/by',
          found: 'not known',
          because: 'It is not known whether second-look was answered by somebody else than who did this work.',
        },
      ],
    },
    {
      says: 'does not know it where a part of the work is not signed',
      on: () => change(conversionOnPump(), { '/body/checks/-': secondLook({ by: 't-18' }) }),
      at: '/body/seals/0/by',
      wrong: { unknown: 'no initials' },
      right: 't-17',
      gives: [{ pointer: '/checks/4/by', found: 'not known' }],
    },
  ],
};

function expectUnknown(words: string): string {
  return `It is not known whether who did this was authorised to ${words}: that is so for a part only of the time, or of what was worked on, that the record leaves open.`;
}

function secondSeries() {
  const [series] = conversionOnPump().edition.series;
  if (series === undefined) throw new Error('the edition has no series');
  return series;
}
