import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Asked, assess } from '../../../src/core/conformity/assess.ts';
import { assessDrift, type Known } from '../../../src/core/conformity/assess-drift.ts';
import { q, within } from './given.ts';

const day = (number: number) => `2026-03-${String(number).padStart(2, '0')}T12:00:00.000000Z`;
const calibrated = (percent: string, on: number, spread = '1'): Known => ({
  instrument: {
    points: [
      { indicated: q('60', 'N.m'), deviation: q(percent, '%'), uncertainty: q(spread, '%'), coverageFactor: '2' },
    ],
  },
  at: day(on),
});
const unknown = (on: number): Known => ({ instrument: {}, at: day(on) });
const asked: Asked = { reading: q('61.0', 'N.m'), range: within('58', '64', 'N.m'), rule: { name: 'simple' } };
const drift = (earlier: Known, later: Known, on: number, change: Partial<Asked> = {}) =>
  assessDrift({ ...asked, ...change }, { earlier, later, at: day(on) });

describe('a wrench that was true on the first and reads 8 % low on the eleventh', () => {
  const [first, last] = [calibrated('0', 1), calibrated('-8', 11)];

  it('was 4 % low in the middle, if it moved in a straight line: 61/0.96', () => {
    expect(drift(first, last, 6).linear.estimate).toEqual(q('63.542', 'N.m'));
    expect(drift(first, last, 6).linear.verdict).toBe('conforms');
    expect(drift(first, last, 3).linear.estimate).toEqual(q('61.992', 'N.m')); // 61/0.984
  });

  it('may have been 8 % low all along: at worst 61/0.92 arrived', () => {
    for (const on of [1, 2, 6, 11]) {
      expect(drift(first, last, on).worst).toMatchObject({ verdict: 'outside', estimate: q('66.304', 'N.m') });
    }
  });

  it('was as it was found before the first and after the last', () => {
    for (const [on, value] of [
      [1, '61.0'],
      [11, '66.304'],
      [12, '66.304'],
    ] as const) {
      expect(drift(first, last, on).linear.estimate).toEqual(q(value, 'N.m'));
    }
    const before = assessDrift(asked, { earlier: first, later: last, at: '2026-02-28T12:00:00.000000Z' });
    expect(before.linear.estimate).toEqual(q('61.0', 'N.m'));
  });

  it('is taken as last found where both were at one time', () => {
    expect(drift(first, calibrated('-8', 1), 1).linear.estimate).toEqual(q('66.304', 'N.m'));
  });
});

describe('what a drift says', () => {
  it('has the larger of the two uncertainties where it is drawn as a line', () => {
    const uncertainty = (one: string, other: string) =>
      drift(calibrated('0', 1, one), calibrated('0', 11, other), 6).linear.standardUncertainty;
    expect([uncertainty('1', '2'), uncertainty('2', '1')]).toEqual([q('0.610', 'N.m'), q('0.610', 'N.m')]);
  });

  it('is no surer than what is known of either end', () => {
    const band = { rule: { name: 'guard-band', factor: 1 } } as const;
    for (const [one, other] of [
      [unknown(1), calibrated('0', 11)],
      [calibrated('0', 1), unknown(11)],
    ] as const) {
      const found = drift(one, other, 6, band);
      expect(found.linear).toMatchObject({ probability: null, verdict: 'undecided', basis: null });
      expect(found.worst.verdict).toBe('undecided');
      expect(drift(one, other, 6).worst).toMatchObject({ verdict: 'conforms', probability: null });
    }
  });

  it('is at worst the less probable of two equal verdicts', () => {
    for (const [one, other] of [
      ['0', '-4'],
      ['-4', '0'],
    ] as const) {
      const { worst } = drift(calibrated(one, 1), calibrated(other, 11), 6);
      expect(worst).toMatchObject({ verdict: 'conforms', probability: 0.933546 });
    }
  });

  it('also of a gauge that is off by a difference, and of one whose two certificates are of different forms', () => {
    const at = (deviation: ReturnType<typeof q>, on: number): Known => ({
      instrument: {
        points: [{ indicated: q('250', 'bar'), deviation, uncertainty: q('1', 'bar'), coverageFactor: '2' }],
      },
      at: day(on),
    });
    const pressure = { reading: q('250', 'bar'), range: within('246', '254', 'bar') };
    const gauge = drift(at(q('-2', 'bar'), 1), at(q('-6', 'bar'), 11), 6, pressure);
    expect(gauge.linear).toMatchObject({ verdict: 'conforms', estimate: q('254.000', 'bar') });
    expect(gauge.worst).toMatchObject({ verdict: 'outside', estimate: q('256.000', 'bar') });
    const mixed = drift(at(q('0', 'bar'), 1), at(q('25', '%'), 11), 6, pressure);
    expect(mixed.linear.estimate).toEqual(q('225.000', 'bar'));
  });

  it('is at worst no better than any deviation between the two says', () => {
    const badness = { conforms: 0, undecided: 1, outside: 2 };
    const percent = fc.integer({ min: -120, max: 120 }).map((tenths) => (tenths / 10).toFixed(1));
    const share = fc.integer({ min: 0, max: 20 });
    fc.assert(
      fc.property(percent, percent, share, fc.constantFrom(0, 0.5, 1, 2), (one, other, twentieths, factor) => {
        const change = { rule: { name: 'guard-band', factor } } as const;
        const between = Number(one) + ((Number(other) - Number(one)) * twentieths) / 20;
        const { worst } = drift(calibrated(one, 1), calibrated(other, 11), 6, change);
        const possible = assess({ ...asked, ...change }, calibrated(between.toFixed(4), 1).instrument);
        expect(badness[worst.verdict]).toBeGreaterThanOrEqual(badness[possible.verdict]);
        if (badness[worst.verdict] === badness[possible.verdict])
          expect(worst.probability).toBeLessThanOrEqual((possible.probability ?? 0) + 1e-3);
      }),
    );
  });
});
