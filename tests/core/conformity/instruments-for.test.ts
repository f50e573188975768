/** Which instruments can decide a requirement, told before the work. Invented instruments, published cases by name. */
import { describe, expect, it } from 'vitest';
import { type AskedBefore, type AtHand, instrumentsFor } from '../../../src/core/conformity/instruments-for.ts';
import { calibrationBody, incidentBody } from '../../../src/core/records/instrument-bodies.ts';
import { instrumentBody } from '../../../src/core/records/stock-bodies.ts';
import { parseTime } from '../../../src/core/time/instant.ts';
import { q } from '../../support/cases.ts';
import { within } from './given.ts';

const now = parseTime('2026-06-01T08:00:00Z').to;
const joint: AskedBefore = {
  ...{ of: 'torque', range: within('58.56', '63.44', 'N.m'), rule: { name: 'simple' }, calibrated: false },
};
const limit: AskedBefore = {
  of: 'setting',
  range: within('246', '254', 'bar'),
  rule: { name: 'simple' },
  calibrated: false,
};
const guarded = { name: 'guard-band', factor: 1 } as const;

function wrench(instrument: string, more: object = {}, events: AtHand['events'] = []): AtHand {
  const range = { min: q('20', 'N.m'), max: q('100', 'N.m') };
  return { instrument, stated: instrumentBody.parse({ kind: 'torque-wrench', how: 'set', range, ...more }), events };
}
function gauge(instrument: string, more: object = {}): AtHand {
  const range = { min: q('0', 'bar'), max: q('400', 'bar') };
  return { instrument, stated: instrumentBody.parse({ kind: 'gauge', range, ...more }), events: [] };
}
function calibrated(at: string): AtHand['events'][number] {
  const performed = parseTime(at);
  const points = [{ at: q('60', 'N.m'), asLeft: q('0', '%'), uncertainty: q('1', '%') }];
  const body = calibrationBody.parse({ reference: at, performedAt: at, document: 'certificate', points });
  return { kind: 'calibration', fact: at, performed, body };
}
const told = (asked: AskedBefore, all: readonly AtHand[]) =>
  instrumentsFor(asked, all, now).map(({ instrument, against }) => [instrument, ...against]);

describe('the instruments for a requirement', () => {
  it('are those that measure it: torque wrenches for a torque, gauges and stands for a setting of their quantity', () => {
    const stand = { ...gauge('st', { kind: 'stand' }) };
    const thermometer = gauge('t', { range: { min: q('0', 'degC'), max: q('120', 'degC') } });
    const all = [wrench('tw'), gauge('pg'), stand, thermometer];
    expect(told(joint, all)).toEqual([['tw']]);
    expect(told(limit, all)).toEqual([['pg'], ['st']]);
  });

  it('come with those that decide first, the finest of them first, then by name', () => {
    const fine = wrench('z-fine', { permissible: q('1', '%') });
    const coarse = wrench('coarse', { permissible: q('4', '%') });
    const unknown = wrench('b');
    const off = wrench('a', { range: { min: q('1', 'N.m'), max: q('20', 'N.m') }, permissible: q('0.1', '%') });
    expect(told(joint, [wrench('c'), off, unknown, coarse, fine])).toEqual([
      ['z-fine'],
      ['coarse'],
      ['b'],
      ['c'],
      ['a', 'out-of-range'],
    ]);
  });

  it('are none where there is no limit to decide on', () => {
    expect(instrumentsFor({ ...joint, range: within(null, null, 'N.m') }, [wrench('tw')], now)).toEqual([]);
  });

  it.each([
    ['58', '70', 'all'],
    ['60', '70', 'part'],
    ['20', '60', 'part'],
    ['70', '80', 'none'],
    ['10', '50', 'none'],
  ])('one from %s to %s N·m reaches %s of 58.56 to 63.44', (min, max, reaches) => {
    const [only] = instrumentsFor(joint, [wrench('tw', { range: { min: q(min, 'N.m'), max: q(max, 'N.m') } })], now);
    expect(only).toMatchObject({ reaches, decides: reaches !== 'none' });
  });

  it('reach one limit alone where that can be read, and everything where no range is stated', () => {
    const least = { ...joint, range: within('50', null, 'N.m') };
    const most = { ...joint, range: within(null, '150', 'N.m') };
    expect(instrumentsFor(least, [wrench('tw')], now)[0]?.reaches).toBe('all');
    expect(instrumentsFor(most, [wrench('tw')], now)[0]?.reaches).toBe('part');
    expect(instrumentsFor(joint, [wrench('tw', { range: undefined })], now)[0]?.reaches).toBe('all');
  });
});

describe('what speaks against an instrument', () => {
  it('is an overdue calibration, unless the next is on its way', () => {
    const late = [calibrated('2024-06-01T08:00:00Z')];
    const [due] = instrumentsFor(joint, [wrench('tw', {}, late)], now);
    expect(due).toMatchObject({ against: ['overdue'], decides: false, due: '2025-06-01T08:00:00.000000Z' });
    expect(told(joint, [wrench('tw', { awaited: 'at the laboratory' }, late)])).toEqual([['tw']]);
  });

  it('is a fall since it was last found good', () => {
    const body = incidentBody.parse({ reference: 'i', performedAt: '2026-05-01T08:00:00Z', what: 'dropped' });
    const fall = { kind: 'incident' as const, fact: 'i', performed: parseTime('2026-05-01T08:00:00Z'), body };
    expect(told(joint, [wrench('tw', {}, [fall])])).toEqual([['tw', 'under-suspicion']]);
  });

  it('is that no calibration is known, where the edition asks for one', () => {
    const asked = { ...joint, calibrated: true };
    const all = [wrench('new'), wrench('known', {}, [calibrated('2026-05-01T08:00:00Z')])];
    expect(told(joint, all)).toEqual([['known'], ['new']]);
    expect(told(asked, all)).toEqual([['known'], ['new', 'never-calibrated']]);
  });

  // Every day's case: a gauge of 400 bar and class 1.0 on 250 ± 4 bar; recomputed: ± 4 bar rectangular is u = 2.31 bar,
  // U = 4.62 bar, so that a guard band of U leaves nothing between the limits, and by simple acceptance T/(4u) is 0.866.
  it('is, under a guard band, that it takes up all there is between the limits', () => {
    const [pg] = instrumentsFor({ ...limit, rule: guarded }, [gauge('pg', { class: '1.0' })], now);
    expect(pg).toMatchObject({
      ...{ against: ['cannot-decide'], at: q('250', 'bar'), basis: 'type-and-class' },
      ...{ uncertainty: q('2.31', 'bar'), guardBand: q('4.62', 'bar') },
    });
    const [simple] = instrumentsFor(limit, [gauge('pg', { class: '1.0' })], now);
    expect(simple).toMatchObject({ decides: true, guardBand: null, fitness: { ratio: 0.866, fit: false } });
  });
});
