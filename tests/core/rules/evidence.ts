/** Tests of the rules that hold for what is known of instruments, then and by now. Invented instruments throughout. */
import type { InstrumentEvent } from '../../../src/core/conformity/instrument-history.ts';
import { calibrationBody, incidentBody, interimCheckBody } from '../../../src/core/records/instrument-bodies.ts';
import { parseTime } from '../../../src/core/time/instant.ts';
import { adjustment, change, q, type Setup } from '../../support/cases.ts';
import { concession, jointInEdition, type RuleTests } from './rule-test.ts';

const pointer = '/torques/0/instrument';
const place = 'pressure-adjuster-locknut';
const calibration = { kind: 'calibration', place: 'wrench-1' } as const;
const torque = { kind: 'torque', place } as const;
/** A setting that is the difference of two instruments. */
const difference = (): Setup => change(adjustment(), { '/body/settings/0/second': 'stand-1' });
const ofSecond = { kind: 'calibration', place: 'stand-1' } as const;
const setting = { kind: 'setting', place: 'pressure-limit' } as const;
const second = '/settings/0/second';

/** An adjustment of the 14th of March with a wrench that may deviate by 4 %. */
const work = (): Setup => change(adjustment(), { '/instruments/wrench-1/permissible': q('4', '%') });

const calibrated = (performedAt: string, found: string, more: object = {}): InstrumentEvent => ({
  ...{ kind: 'calibration', fact: `calibration-${performedAt}`, performed: parseTime(performedAt) },
  body: calibrationBody.parse({
    ...{ reference: 'c', performedAt, document: 'certificate', ...more },
    points: [{ at: q('60', 'N.m'), asFound: q(found, '%'), uncertainty: q('1', '%') }],
  }),
});
const happened = (performedAt: string, what: string): InstrumentEvent => ({
  ...{ kind: 'incident', fact: `incident-${performedAt}`, performed: parseTime(performedAt) },
  body: incidentBody.parse({ reference: 'i', performedAt, what }),
});
const checked = (performedAt: string, found: string): InstrumentEvent => ({
  ...{ kind: 'interim-check', fact: `check-${performedAt}`, performed: parseTime(performedAt) },
  body: interimCheckBody.parse({
    reference: 'k',
    performedAt,
    points: [{ at: q('60', 'N.m'), asFound: q(found, '%') }],
  }),
});
const old = calibrated('2025-01-10T08:00:00Z', '0.5');
const current = calibrated('2026-01-10T08:00:00Z', '0.5');
const at = '/instrumentEvents';

export const evidence: RuleTests = {
  'instrument-overdue': [
    {
      says: 'holds a reading with a wrench whose year is over, until it is found good',
      on: work,
      at,
      wrong: { 'wrench-1': [old] },
      right: { 'wrench-1': [old, calibrated('2026-05-01T08:00:00Z', '3.9')] },
      gives: [{ pointer, found: 'wrench-1', clearedBy: [calibration, torque, concession] }],
    },
    {
      says: 'takes the date of the document where it has one',
      on: work,
      at,
      wrong: { 'wrench-1': [calibrated('2026-01-10T08:00:00Z', '0', { due: '2026-03-01T00:00:00Z' })] },
      right: { 'wrench-1': [calibrated('2026-01-10T08:00:00Z', '0', { due: '2026-03-15T00:00:00Z' })] },
      gives: [{ pointer, expected: 'calibrated by 2026-03-01T00:00:00.000000Z' }],
    },
    {
      says: 'takes the interval of its owner before the usual one',
      on: () => change(work(), { [at]: { 'wrench-1': [current] } }),
      at: '/instruments/wrench-1/interval',
      wrong: 'P30D',
      right: 'P90D',
      gives: [{ pointer }],
    },
    {
      says: 'holds a difference of which the second instrument is overdue',
      on: difference,
      at,
      wrong: { 'stand-1': [old] },
      right: { 'stand-1': [current] },
      gives: [{ pointer: second, found: 'stand-1', clearedBy: [ofSecond, setting, concession] }],
    },
  ],
  'calibration-awaited': [
    {
      says: 'leaves it due where the shop says that it is on its way',
      on: () => change(work(), { [at]: { 'wrench-1': [old] } }),
      at: '/instruments/wrench-1/awaited',
      wrong: 'sent to the laboratory on the 10th',
      right: undefined,
      gives: [{ pointer, found: 'wrench-1', clearedBy: [calibration, torque] }],
    },
    {
      says: 'leaves a difference due where the calibration of the second instrument is on its way',
      on: () => change(difference(), { [at]: { 'stand-1': [old] } }),
      at: '/instruments/stand-1/awaited',
      wrong: 'sent to the laboratory on the 10th',
      right: undefined,
      gives: [{ pointer: second, found: 'stand-1', clearedBy: [ofSecond, setting] }],
    },
  ],
  'calibration-missing': [
    {
      says: 'holds where the edition asks for calibrated instruments and none is known, unless it was found good later',
      on: () =>
        change(work(), { '/edition/demands': { calibrated: true }, '/body/settings': [], '/body/measurements': [] }),
      at,
      wrong: {},
      right: { 'wrench-1': [calibrated('2026-05-01T08:00:00Z', '1')] },
      gives: [{ pointer, found: 'wrench-1', clearedBy: [calibration, torque, concession] }],
    },
    {
      says: 'holds a difference of which nobody has calibrated the second instrument',
      on: () =>
        change(difference(), {
          '/edition/demands': { calibrated: true },
          ...{ '/body/torques': [], '/body/measurements': [] },
          '/body/settings/0/instrument': 'gauge-1',
        }),
      at,
      wrong: { 'gauge-1': [current] },
      right: { 'gauge-1': [current], 'stand-1': [current] },
      gives: [{ pointer: second, found: 'stand-1', clearedBy: [ofSecond, setting, concession] }],
    },
  ],
  'instrument-suspect': [
    {
      says: 'holds a reading with a wrench that fell, until it is found good',
      on: work,
      at,
      wrong: { 'wrench-1': [current, happened('2026-03-01T08:00:00Z', 'dropped')] },
      right: {
        'wrench-1': [current, happened('2026-03-01T08:00:00Z', 'dropped'), calibrated('2026-04-01T08:00:00Z', '-3.9')],
      },
      gives: [{ pointer, found: 'dropped', clearedBy: [calibration, torque, concession] }],
    },
    {
      says: 'holds a difference of which the second instrument fell',
      on: difference,
      at,
      wrong: { 'stand-1': [happened('2026-03-01T08:00:00Z', 'dropped')] },
      right: { 'stand-1': [happened('2026-03-20T08:00:00Z', 'dropped')] },
      gives: [{ pointer: second, found: 'dropped', clearedBy: [ofSecond, setting, concession] }],
    },
  ],
  'cannot-decide': [
    {
      // 22.5 N·m of 19 to 23, U = 2·4 %·22.5/√3 = 1.04 N·m: JCGM 106:2012, 8.3.
      says: 'holds a reading that the guard band leaves in doubt',
      on: () => change(work(), { [`${jointInEdition(place)}/decisionRule`]: 'guard-band' }),
      at: '/body/torques/0/reading/value',
      wrong: '22.5',
      right: '21',
      gives: [
        { pointer: '/torques/0/reading', expected: '19 to 23 N.m', clearedBy: [calibration, torque, concession] },
      ],
    },
    {
      says: 'holds a reading of which nobody has said how true it is, where the maker demands a guard band',
      on: () => change(adjustment(), { '/edition/demands': { guardBand: 1 }, '/body/settings': [] }),
      at: '/instruments/wrench-1/permissible',
      wrong: undefined,
      right: q('1', '%'),
      gives: [{ pointer: '/torques/0/reading' }],
    },
    {
      says: 'asks for no calibration of a wrench that nobody wrote down',
      on: () =>
        change(adjustment(), {
          '/edition/demands': { guardBand: 1 },
          '/body/settings': [],
          '/instruments/wrench-1/permissible': q('1', '%'),
        }),
      at: '/body/torques/0/instrument',
      wrong: { unknown: 'not written down' },
      right: 'wrench-1',
      gives: [{ pointer: '/torques/0/reading', clearedBy: [torque, concession] }],
    },
    {
      // A check states no uncertainty: 21/0.93 = 22.581 N·m is the estimate, and nobody knows how sure it is.
      says: 'holds, under a guard band, a reading whose wrench is known by a check alone',
      on: () =>
        change(work(), {
          [`${jointInEdition(place)}/decisionRule`]: 'guard-band',
          '/body/torques/0/reading': q('21', 'N.m'),
        }),
      at,
      wrong: { 'wrench-1': [current, checked('2026-02-01T08:00:00Z', '-7')] },
      right: { 'wrench-1': [current, checked('2026-02-01T08:00:00Z', '-3')] },
      gives: [
        { pointer: '/torques/0/reading', expected: '19 to 23 N.m', clearedBy: [calibration, torque, concession] },
      ],
    },
  ],
  'instrument-coarse': [
    {
      says: 'notes a wrench whose uncertainty is more than a quarter of half the tolerance',
      on: () => change(work(), { '/body/settings': [] }),
      at: '/instruments/wrench-1/permissible',
      wrong: q('4', '%'),
      right: q('1', '%'),
      gives: [{ pointer: '/torques/0/reading', expected: '4', found: '2.062' }],
    },
  ],
};
