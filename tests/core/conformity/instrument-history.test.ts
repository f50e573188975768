/** What is known of an instrument at a time, from all that was ever stated of it. Invented instruments throughout. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dueOf, type InstrumentEvent, isGood, standingAt } from '../../../src/core/conformity/instrument-history.ts';
import { calibrationBody, incidentBody, interimCheckBody } from '../../../src/core/records/instrument-bodies.ts';
import { instrumentBody } from '../../../src/core/records/stock-bodies.ts';
import { parseTime } from '../../../src/core/time/instant.ts';
import { adjustment, change, kept, q } from '../../support/cases.ts';

const wrench = instrumentBody.parse({
  ...{ kind: 'torque-wrench', how: 'set', class: 'A' },
  range: { min: q('20', 'N.m'), max: q('100', 'N.m') },
});
const day = (text: string) => `2026-${text}T08:00:00Z`;
const instant = (text: string) => parseTime(day(text)).to;
type Calibration = Extract<InstrumentEvent, { kind: 'calibration' }>;

function calibration(on: string, point: object, more: object = {}): Calibration {
  const body = { reference: on, performedAt: day(on), document: 'certificate', ...more };
  return {
    ...{ kind: 'calibration', fact: `calibration ${on}`, performed: parseTime(day(on)) },
    body: calibrationBody.parse({
      points: [{ at: q('60', 'N.m'), uncertainty: q('1', '%'), ...point }],
      ...body,
    }),
  };
}
function check(on: string, found: string): Extract<InstrumentEvent, { kind: 'interim-check' }> {
  const body = { reference: on, performedAt: day(on), points: [{ at: q('60', 'N.m'), asFound: q(found, '%') }] };
  return {
    ...{ kind: 'interim-check', fact: `check ${on}`, performed: parseTime(day(on)) },
    body: interimCheckBody.parse(body),
  };
}
function incident(on: string, what: string): InstrumentEvent {
  const body = incidentBody.parse({ reference: on, performedAt: day(on), what });
  return { kind: 'incident', fact: `incident ${on}`, performed: parseTime(day(on)), body };
}
const found = (percent: string) => ({ asFound: q(percent, '%') });

describe('an instrument is good', () => {
  // ISO 6789 (2003 edition, as quoted): ± 4 % for a type II class A tool whose maximum exceeds 10 N·m.
  it.each([
    ['4', true],
    ['-4', true],
    ['4.01', false],
    ['-7', false],
  ])('of type II class A found %s %% off: %s', (percent, good) => {
    expect(isGood(wrench, calibration('01-10', found(percent)))).toBe(good);
  });

  it('of type I, which indicates, within ± 6 % (ISO 6789, 2003 edition, as quoted)', () => {
    const indicating = instrumentBody.parse({ ...wrench, how: 'indicated' });
    expect(isGood(indicating, calibration('01-10', found('-6')))).toBe(true);
    expect(isGood(indicating, calibration('01-10', found('6.1')))).toBe(false);
  });

  it('by what its owner states before its class, and by differences as by percents', () => {
    const stated = instrumentBody.parse({ ...wrench, permissible: q('1', '%') });
    expect(isGood(stated, calibration('01-10', found('2')))).toBe(false);
    expect(isGood(stated, calibration('01-10', { asFound: q('0.6', 'N.m') }))).toBe(true);
    expect(isGood(stated, calibration('01-10', { asFound: q('0.61', 'N.m') }))).toBe(false);
  });

  it('is not known where nobody has said what it may deviate by, or where only what was left is stated', () => {
    expect(isGood({ kind: 'torque-wrench' }, calibration('01-10', found('2')))).toBe(null);
    expect(isGood(wrench, calibration('01-10', { asLeft: q('9', '%') }))).toBe(null);
    // Of a part of a temperature nothing can be said.
    const thermometer = instrumentBody.parse({ kind: 'stand', permissible: q('2', '%') });
    const warm = calibration('01-10', { at: q('50', 'degC'), ...found('1') });
    expect(isGood(thermometer, warm)).toBe(null);
  });
});

describe('a calibration', () => {
  it('is due when it says, else after the interval of the owner, else after a year (ISO 6789, from memory)', () => {
    const one = calibration('01-10', found('0'));
    expect(dueOf(wrench, one)).toBe('2027-01-10T08:00:00.000000Z');
    expect(dueOf({ ...wrench, interval: 'P6M' }, one)).toBe('2026-07-10T08:00:00.000000Z');
    const dated = calibration('01-10', found('0'), { due: '2026-03-01T00:00:00Z' });
    expect(dueOf({ ...wrench, interval: 'P6M' }, dated)).toBe('2026-03-01T00:00:00.000000Z');
  });

  it('that is overdue is so no more once a later one finds the instrument good; a check does not do that', () => {
    const old = calibration('01-10', found('0'), { due: day('02-01') });
    const at = instant('03-01');
    expect(standingAt(wrench, [old], at)).toMatchObject({ overdue: true, calibration: old });
    expect(standingAt(wrench, [old, check('04-01', '0')], at).overdue).toBe(true);
    expect(standingAt(wrench, [old, calibration('04-01', found('5'))], at).overdue).toBe(true);
    expect(standingAt(wrench, [old, calibration('04-01', found('3'))], at).overdue).toBe(false);
    expect(standingAt(wrench, [old], instant('02-01')).overdue).toBe(false);
  });

  it('is not known before the first, unless that finds it good', () => {
    expect(standingAt(wrench, [], instant('03-01'))).toMatchObject({
      neverCalibrated: true,
      due: null,
      overdue: false,
    });
    expect(standingAt(wrench, [calibration('04-01', found('1'))], instant('03-01')).neverCalibrated).toBe(false);
    expect(standingAt(wrench, [calibration('04-01', found('9'))], instant('03-01')).neverCalibrated).toBe(true);
  });

  it('that is a declaration gives no deviation, and one of a certificate counts as the instrument was left', () => {
    const declared = calibration('01-10', { asLeft: q('1', '%') }, { document: 'declaration' });
    expect(standingAt(wrench, [declared], instant('03-01')).earlier.instrument.points).toBeUndefined();
    const certified = calibration('01-10', { asFound: q('3', '%'), asLeft: q('1', '%') });
    const { earlier } = standingAt(wrench, [certified], instant('03-01'));
    expect(earlier).toMatchObject({ at: certified.performed.to, instrument: { points: [{ deviation: q('1', '%') }] } });
    const points = [
      { at: q('60', 'N.m'), asFound: q('1', '%'), uncertainty: q('1', '%') },
      { at: q('100', 'N.m'), asFound: q('2', '%') },
    ];
    const half = calibration('01-10', {}, { points });
    expect(standingAt(wrench, [half], instant('03-01')).earlier.instrument.points).toHaveLength(1);
  });
});

describe('what is found later', () => {
  it('tells of what was before where it is worse than it may be; what is good confirms', () => {
    const first = calibration('01-10', found('0'));
    const at = instant('03-01');
    expect(standingAt(wrench, [first, check('04-01', '-3')], at).later).toBe(null);
    const worse = standingAt(wrench, [first, check('04-01', '-7')], at);
    expect(worse.later).toMatchObject({ fact: 'check 04-01', instrument: { points: [{ deviation: q('-7', '%') }] } });
    // Since the last that was good: the next one after the work counts, whatever comes after that.
    expect(standingAt(wrench, [first, check('04-01', '1'), check('05-01', '-7')], at).later).toBe(null);
    const onCertificate = standingAt(
      wrench,
      [first, calibration('04-01', { ...found('-7'), asLeft: q('0', '%') })],
      at,
    );
    expect(onCertificate.later).toMatchObject({ instrument: { points: [{ uncertainty: q('1', '%') }] } });
    expect(standingAt({ kind: 'torque-wrench' }, [first, check('04-01', '-7')], at).later).toBe(null);
    const points = [
      { at: q('60', 'N.m'), asFound: q('-7', '%'), uncertainty: q('1', '%') },
      { at: q('100', 'N.m'), asLeft: q('0', '%') },
    ];
    expect(standingAt(wrench, [first, calibration('04-01', {}, { points })], at).later?.instrument.points).toHaveLength(
      1,
    );
  });

  it('counts from the last that was good; a bad check that nothing was done about is known from then on', () => {
    const first = calibration('01-10', found('0'));
    const at = instant('03-01');
    expect(standingAt(wrench, [first, check('02-01', '1')], at).earlier.at).toBe(instant('02-01'));
    const bad = standingAt(wrench, [first, check('02-01', '-7')], at).earlier;
    expect(bad).toMatchObject({ at: instant('02-01'), instrument: { points: [{ deviation: q('-7', '%') }] } });
    const since = [check('02-01', '-7'), calibration('02-10', found('1'))];
    expect(standingAt(wrench, since, at).earlier.at).toBe(instant('02-10'));
  });

  it('says nothing across an adjustment or a repair, in neither direction', () => {
    const first = calibration('01-10', found('2'));
    const at = instant('03-01');
    const { earlier } = standingAt(wrench, [first, incident('02-01', 'adjusted')], at);
    expect([earlier.instrument.points, earlier.at]).toEqual([undefined, '0001-01-01T00:00:00.000000Z']);
    expect(standingAt(wrench, [first, incident('03-10', 'repaired'), check('04-01', '-7')], at).later).toBe(null);
  });
});

describe('a fall', () => {
  it('puts an instrument under suspicion until it is calibrated or found good', () => {
    const [first, fall] = [calibration('01-10', found('0')), incident('02-01', 'dropped')];
    const at = instant('03-01');
    expect(standingAt(wrench, [first, fall], at).suspect).toBe(fall);
    expect(standingAt(wrench, [first, fall, check('02-02', '1')], at).suspect).toBe(null);
    expect(standingAt(wrench, [first, fall, check('02-02', '6')], at).suspect).toBe(fall);
    expect(standingAt(wrench, [first, fall, calibration('02-02', { asLeft: q('0', '%') })], at).suspect).toBe(null);
    expect(standingAt(wrench, [first, fall, check('04-01', '1')], at).suspect).toBe(null);
    expect(standingAt(wrench, [first, fall, check('04-01', '6')], at).suspect).toBe(fall);
    expect(standingAt(wrench, [first], at).suspect).toBe(null);
  });
});

describe('the order in which it is learnt', () => {
  const events = [
    calibration('01-10', found('0.5')),
    check('02-01', '-7'),
    incident('02-15', 'dropped'),
    calibration('04-01', { asFound: q('-6', '%'), asLeft: q('0.2', '%') }),
    check('05-01', '0.4'),
    incident('06-01', 'adjusted'),
    calibration('06-02', { asLeft: q('0', '%') }),
  ];

  it('never changes what is known', () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray(events, { minLength: events.length }),
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 1, max: 28 }),
        (shuffled, month, date) => {
          const two = (number: number) => String(number).padStart(2, '0');
          const at = instant(`${two(month)}-${two(date)}`);
          expect(standingAt(wrench, shuffled, at)).toEqual(standingAt(wrench, events, at));
        },
      ),
    );
  });

  it('decides by the name of the fact between two of the same time, so that it is the same everywhere', () => {
    const one = { ...check('02-01', '-7'), fact: 'a' };
    const other = { ...check('02-01', '1'), fact: 'b' };
    expect(standingAt(wrench, [one, other], instant('01-15'))).toEqual(
      standingAt(wrench, [other, one], instant('01-15')),
    );
  });
});

describe('the verdict on a torque of 22.5 N·m within 19 to 23', () => {
  const setup = (events: readonly InstrumentEvent[], more: object = {}) =>
    change(adjustment(), {
      '/instruments/wrench-1': { ...wrench, range: { min: q('10', 'N.m'), max: q('100', 'N.m') } },
      '/instrumentEvents': { 'wrench-1': events },
      '/body/torques/0/reading': q('22.5', 'N.m'),
      ...more,
    });
  const verdict = (events: readonly InstrumentEvent[], more: object = {}) =>
    kept(setup(events, more)).judgement.verdicts.find((one) => one.of === 'torque');
  const first = calibration('01-10', found('0'));

  it('is by the estimate: a wrench that reads 3 % low gave more', () => {
    expect(verdict([first])).toMatchObject({ verdict: 'conforms', basis: 'calibration', calibration: first.fact });
    const low = verdict([calibration('01-10', found('-3'))]);
    // 22.5/(1 − 0.03) = 23.196 N·m (recomputed); U of the certificate is 1 % with k = 2.
    expect(low).toMatchObject({ verdict: 'outside', estimate: q('23.196', 'N.m'), uncertainty: q('0.113', 'N.m') });
    expect(verdict([])).toMatchObject({ verdict: 'conforms', basis: 'type-and-class', calibration: null });
  });

  it('is of the worst once the wrench is found 7 % low, with what an even drift would say beside it', () => {
    const later = calibration('05-10', { asFound: q('-7', '%'), asLeft: q('0', '%') });
    const found = verdict([first, later]);
    // 22.5/0.93 = 24.194 at worst (recomputed); on 63 of 120 days evenly drifted: −3.677 %, 23.359.
    expect(found).toMatchObject({ verdict: 'outside', estimate: q('24.194', 'N.m'), foundBy: later.fact });
    expect(found?.linear).toMatchObject({ verdict: 'outside' });
    const { findings } = kept(setup([first, later])).judgement;
    const [outside] = findings.filter((one) => one.rule === 'torque-outside');
    expect(outside?.because).toMatch(/at worst 24\.194 N\.m and 23\.\d+ N\.m had it drifted evenly/);
    const [certified] = kept(setup([calibration('01-10', found2)])).judgement.findings.filter(
      (one) => one.rule === 'torque-outside',
    );
    expect(certified?.because).toMatch(/by its calibration 23\.196 N\.m/);
  });
  const found2 = { asFound: q('-3', '%') };

  it('has no probability where what counts was found without stating how sure that is', () => {
    // 21/0.93 = 22.581 N·m (recomputed). A deviation without its uncertainty is not a certain one (GUM 3.1.2).
    const unsure = { estimate: q('22.5806', 'N.m'), uncertainty: null, probability: null, basis: 'calibration' };
    const reading = { '/body/torques/0/reading': q('21', 'N.m') };
    expect(verdict([first, check('02-01', '-7')], reading)).toMatchObject({ ...unsure, verdict: 'conforms' });
    const declared = calibration(
      '05-10',
      {},
      { document: 'declaration', points: [{ at: q('60', 'N.m'), ...found('-7') }] },
    );
    expect(verdict([first, declared], reading)).toMatchObject({ ...unsure, foundBy: declared.fact });
    expect(verdict([first, declared], reading)?.linear?.probability).toBe(null);
    expect(verdict([first, check('02-01', '-3')], reading)?.uncertainty).toEqual(q('0.105', 'N.m'));
  });

  it('of a line with a time of its own is by what was known then', () => {
    const later = calibration('03-12', found('-3'));
    expect(verdict([first, later])?.calibration).toBe(later.fact);
    expect(verdict([first, later], { '/body/torques/0/at': day('03-01') })?.calibration).toBe(first.fact);
  });
});

describe('a difference of two gauges', () => {
  it('is as uncertain as both together, and of unknown uncertainty where either is', () => {
    const gauge = { kind: 'gauge', class: '1.0', range: { min: q('0', 'bar'), max: q('400', 'bar') } };
    const setting = (more: object) =>
      kept(change(adjustment(), { '/instruments/gauge-1': gauge, ...more })).judgement.verdicts.find(
        (one) => one.of === 'setting',
      );
    // Class 1.0 of 400 bar: 4/√3 = 2.31 bar each, together 3.27: U ≈ 6.5 bar.
    expect(setting({})?.uncertainty).toEqual(q('2.31', 'bar'));
    const second = { '/instruments/gauge-2': gauge, '/body/settings/0/second': 'gauge-2' };
    expect(setting(second)?.uncertainty).toEqual(q('3.27', 'bar'));
    expect(setting({ ...second, '/instruments/gauge-2': { kind: 'gauge' } })?.uncertainty).toBe(null);
    expect(
      setting({ '/body/settings/0/second': 'stand-1', '/instruments/gauge-1': { kind: 'gauge' } })?.uncertainty,
    ).toBe(null);
  });
});
