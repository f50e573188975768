/** Tests of the rules on what a pin gauge found, and on what flowed through an orifice. */
import { change, conversionOnPump, q, repair, type Setup, testRun } from '../../support/cases.ts';
import { concession, inEdition, type RuleTests } from './rule-test.ts';

const orifice = inEdition('elements', 'orifice-0.6');
const tolerance = { [`${orifice}/boreTolerance`]: q('0.02', 'mm') };

/** The orifice of 0.6 mm taken out of the bleed and another put in. */
const measuring = (changes: Readonly<Record<string, unknown>> = {}): Setup => change(repair(), changes);
const bore = (value: string, unit = 'mm') => ({ bore: q(value, unit) });

/** At 20 bar and 870 kg/m³ 0.6 mm lets 0.69 to 0.98 L/min through (recomputed; tests/core/physics). */
const flowing = (through: object, more: Readonly<Record<string, unknown>> = {}): Setup =>
  change(testRun(), {
    '/body/measurements/1': {
      ...{ measured: 'bleed-flow', reading: q('0.80', 'L/min'), instrument: 'stand-1' },
      through: { station: 'bleed-seat', pressure: q('20', 'bar'), ...through },
    },
    ...more,
  });

export const bores: RuleTests = {
  'bore-outside': [
    {
      says: 'holds a fitted orifice that a pin gauge finds too wide, in whatever unit',
      on: () => measuring(tolerance),
      at: '/body/fitted/0/measured',
      wrong: bore('621', 'um'),
      right: bore('620', 'um'),
      gives: [
        {
          ...{ pointer: '/fitted/0/measured/bore', expected: '0.58 to 0.62 mm', found: '621 um' },
          because: 'The orifice-0.6 fitted to bleed-seat has a bore of 621 um; it may have 0.58 to 0.62 mm.',
          clearedBy: [{ kind: 'part', place: 'bleed-seat' }, concession],
        },
      ],
    },
    {
      says: 'takes a tolerance in parts of the bore',
      on: () => measuring({ [`${orifice}/boreTolerance`]: q('5', '%') }),
      at: '/body/fitted/0/measured',
      wrong: bore('0.569'),
      right: bore('0.57'),
      gives: [{ pointer: '/fitted/0/measured/bore' }],
    },
    {
      says: 'judges nothing where the edition gives no tolerance, or the piece was not measured',
      on: () => measuring({ '/body/fitted/0/measured': bore('0.64') }),
      at: `${orifice}/boreTolerance`,
      wrong: q('0.03', 'mm'),
      right: undefined,
      gives: [{ pointer: '/fitted/0/measured/bore' }],
    },
  ],
  'bore-worn': [
    {
      says: 'notes an orifice that was taken out washed out',
      on: () => measuring(tolerance),
      at: '/body/removed/0/measured',
      wrong: bore('0.63'),
      right: { ...bore('0.62'), length: q('9', 'mm') },
      gives: [
        {
          ...{ pointer: '/removed/0/measured/bore', expected: '0.58 to 0.62 mm', found: '0.63 mm' },
          because: 'The orifice-0.6 taken out of bleed-seat has a bore of 0.63 mm; a new one may have 0.58 to 0.62 mm.',
        },
      ],
    },
  ],
  'bore-of-another': [
    {
      says: 'notes of what was fitted that another orifice of the station is nearer',
      on: () => measuring(),
      at: '/body/fitted/0/measured',
      wrong: bore('0.71'),
      right: bore('0.70'),
      gives: [
        {
          ...{ pointer: '/fitted/0/measured/bore', expected: '0.6 mm', found: '0.71 mm' },
          because: 'A bore of 0.71 mm at bleed-seat is nearer to orifice-0.8 (0.8 mm) than to orifice-0.6 (0.6 mm).',
        },
      ],
    },
    {
      says: 'notes of what was taken out that it is another, and leaves it to the tolerance where there is one',
      on: () => measuring({ '/body/removed/0/measured': bore('0.81') }),
      at: `${orifice}/boreTolerance`,
      wrong: undefined,
      right: q('0.02', 'mm'),
      gives: [{ pointer: '/removed/0/measured/bore', found: '0.81 mm' }],
    },
  ],
  'bore-unknown': [
    {
      says: 'says that a part without a bore in the edition is held against nothing',
      on: () => change(conversionOnPump(), { '/body/fitted/0/measured': bore('0.6') }),
      at: `${inEdition('elements', 'plug-m5')}/bore`,
      wrong: undefined,
      right: q('0.6', 'mm'),
      gives: [
        {
          ...{ pointer: '/fitted/0/measured/bore', found: '0.6 mm' },
          because: 'A bore of 0.6 mm at bleed-seat is held against nothing: which bore plug-m5 has is not known.',
        },
      ],
    },
    {
      says: 'says so of a part of which nobody knows what it is',
      on: () => measuring({ '/body/removed/0/measured': bore('0.6') }),
      at: '/body/removed/0/element',
      wrong: { unknown: 'no mark on it' },
      right: 'orifice-0.6',
      gives: [
        {
          pointer: '/removed/0/measured/bore',
          because: 'A bore of 0.6 mm at bleed-seat is held against nothing: what the part is is not known.',
        },
      ],
    },
  ],
  'flow-outside': [
    {
      says: 'notes more than the orifice lets through, with the numbers that it is reckoned from',
      on: () => flowing({}),
      at: '/body/measurements/1/reading',
      wrong: q('0.99', 'L/min'),
      right: q('0.97', 'L/min'),
      gives: [
        {
          ...{ pointer: '/measurements/1/reading', expected: '0.69 to 0.98 L/min', found: '0.99 L/min' },
          because:
            'Through bleed-seat flow 0.99 L/min at 20 bar; orifice-0.6 (0.6 mm) lets 0.69 to 0.98 L/min through, with C_d 0.6 to 0.85 and a density taken as 870 kg/m³.',
        },
      ],
    },
    {
      says: 'notes less: it is clogged, or another; 0.18 gal/min is 0.681 L/min, and 0.19 is 0.719',
      on: () => flowing({}),
      at: '/body/measurements/1/reading',
      wrong: q('0.18', 'gal/min'),
      right: q('0.19', 'gal/min'),
      gives: [{ pointer: '/measurements/1/reading', found: '0.18 gal/min' }],
    },
    {
      says: 'goes by the pressure across it, in whatever unit',
      on: () => flowing({}),
      at: '/body/measurements/1/through/pressure',
      wrong: q('8', 'MPa'),
      right: q('2', 'MPa'),
      gives: [{ expected: '1.38 to 1.96 L/min', pointer: '/measurements/1/reading' }],
    },
  ],
  'flow-unknown': [
    {
      says: 'says that nobody knows what should flow where nobody knows the bore',
      on: () => flowing({}),
      at: '/control/events/0/effect/found/bleed-seat',
      wrong: { elements: null, basis: 'unknown' },
      right: { elements: [{ element: 'orifice-0.6', quantity: 1 }], basis: 'seen' },
      gives: [
        {
          ...{ pointer: '/measurements/1/reading', found: '0.80 L/min' },
          because: 'What should flow through bleed-seat is not known: the bore that is there is not.',
        },
      ],
    },
    {
      says: 'says so of a part without a bore',
      on: () => flowing({}),
      at: '/body/measurements/1/through/station',
      wrong: 'pilot-seat',
      right: 'bleed-seat',
      gives: [{ pointer: '/measurements/1/reading' }],
    },
    {
      says: 'says so of several pieces together, of which nobody knows how they lie',
      on: () => flowing({}),
      at: '/control/events/0/effect/found/bleed-seat/elements',
      wrong: [{ element: 'orifice-0.6', quantity: 2 }],
      right: [{ element: 'orifice-0.6', quantity: 1 }],
      gives: [{ pointer: '/measurements/1/reading' }],
    },
  ],
};
