/** Tests of the rules for bench work that look at where a unit is, how long it has run, and whether it is retired. */
import { adjustment, change, conversionOnPump, laterWork, mounting, q, takingOff } from '../../support/cases.ts';
import { concession, type RuleTests } from './rule-test.ts';

export const life: RuleTests = {
  'unit-retired': [
    {
      says: 'refuses work on a control that was retired before',
      on: conversionOnPump,
      at: '/control/events/0/effect/retired',
      wrong: true,
      right: undefined,
      gives: [
        {
          pointer: '/control',
          found: '2026-02-02T08:00:00.000000Z',
          because: 'K-20931 was retired on 2026-02-02T08:00:00.000000Z.',
        },
      ],
    },
    {
      says: 'refuses work on the control of a pump that was retired before',
      on: conversionOnPump,
      at: '/pump/events/0/effect/retired',
      wrong: true,
      right: undefined,
      gives: [{ pointer: '/pump' }],
    },
    {
      says: 'refuses a retired control on a pump, and lets it be taken off',
      on: () => change(mounting(), { '/control/events/0/effect/retired': true }),
      at: '/body/on',
      wrong: true,
      right: false,
      gives: [{ pointer: '/control' }],
    },
  ],
  'not-in-custody': [
    {
      says: 'holds work on a control that the records have elsewhere, and not where nobody has said where it is',
      on: conversionOnPump,
      at: '/control/whereabouts',
      wrong: 'elsewhere',
      right: 'unknown',
      gives: [{ pointer: '/shop', found: null, clearedBy: [{ kind: 'custody', place: 'control' }, concession] }],
    },
    {
      says: 'holds work on a pump that the records have elsewhere, and not where they have it here',
      on: takingOff,
      at: '/pump/whereabouts',
      wrong: 'elsewhere',
      right: 'here',
      gives: [{ pointer: '/shop', found: null, clearedBy: [{ kind: 'custody', place: 'pump' }, concession] }],
    },
  ],
  'hours-went-back': [
    {
      says: 'notes fewer hours than were stated before, in whatever unit of time',
      on: () => change(adjustment(), { '/control/events/0/effect/hours': q('1200', 'h') }),
      at: '/body/hours',
      wrong: q('4319999', 's'),
      right: q('4320000', 's'),
      gives: [
        {
          pointer: '/hours',
          expected: 'at least 1200 h',
          found: '4319999 s',
          because: 'K-20931 is said to have run 4319999 s, and 1200 h before.',
        },
      ],
    },
    {
      says: 'notes of a record that comes late more hours than later work states',
      on: () => change(adjustment(), { '/control/later': [laterWork({}), laterWork({ hours: q('1300', 'h') })] }),
      at: '/body/hours',
      wrong: q('1300.5', 'h'),
      right: q('1300', 'h'),
      gives: [{ pointer: '/hours', expected: 'at most 1300 h', found: '1300.5 h' }],
    },
    {
      says: 'takes the hours of a mounting for those of the pump',
      on: () =>
        change(mounting(), {
          '/pump/events/0/effect/hours': q('10', 'h'),
          '/control/events/0/effect/hours': q('90', 'h'),
        }),
      at: '/body/hours',
      wrong: q('9', 'h'),
      right: q('11', 'h'),
      gives: [{ pointer: '/hours', expected: 'at least 10 h' }],
    },
  ],
};
