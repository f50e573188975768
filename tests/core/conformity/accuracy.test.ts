import { describe, expect, it } from 'vitest';
import { accuracyAt, estimateThrough, type Instrument } from '../../../src/core/conformity/accuracy.ts';
import { doubleOf } from '../../../src/core/conformity/double.ts';
import {
  differenceOf,
  estimateAsQuantity,
  estimateOf,
  standardUncertaintyOf,
} from '../../../src/core/conformity/estimate.ts';
import { permissibleOfTorqueTool } from '../../../src/core/conformity/permissible-deviation.ts';
import { numberIn } from '../../../src/core/quantity/exact.ts';
import type { Quantity } from '../../../src/core/quantity/quantity.ts';
import { q } from './given.ts';

/** Standard uncertainty in the unit of the reading; null: not known. */
function uncertainty(instrument: Instrument, reading: Quantity): number | null {
  const told = standardUncertaintyOf(estimateThrough(reading, accuracyAt(instrument, reading)));
  return told === null ? null : Number(told.value);
}
const basis = (instrument: Instrument, reading: Quantity) => accuracyAt(instrument, reading).basis;
const estimate = (instrument: Instrument, reading: Quantity) =>
  Number(estimateAsQuantity(estimateThrough(reading, accuracyAt(instrument, reading)), reading).value);

const point = (indicated: Quantity, deviation: Quantity, spread: Quantity, coverageFactor = '2') => ({
  ...{ indicated, deviation, uncertainty: spread, coverageFactor },
});
const gauge = (name: string, max = q('400', 'bar'), min = q('0', max.unit)): Instrument => ({
  classed: { class: name, range: { min, max } },
});
const tool = (type: 'I' | 'II', letter: string, max: Quantity) => ({ type, class: letter, max });

describe('an instrument of which only type and class are known', () => {
  // ISO 6789:2003 as quoted by makers of torque tools, for type II class A; of other types and classes the wider is taken.
  it.each([
    ['II', 'A', q('100', 'N.m'), '4'],
    ['II', 'a', q('10.1', 'N.m'), '4'],
    ['II', 'A', q('10', 'N.m'), '6'],
    ['II', 'A', q('90', 'lbf.in'), '4'],
    ['II', 'A', q('88', 'lbf.in'), '6'],
    ['I', 'A', q('100', 'N.m'), '6'],
    ['II', 'D', q('100', 'N.m'), '6'],
  ] as const)('as a torque tool of type %s class %s up to %j may deviate by %s %%', (type, letter, max, percent) => {
    expect(permissibleOfTorqueTool(tool(type, letter, max))).toEqual(q(percent, '%'));
  });

  it('is as uncertain as a rectangle is wide: a/√3 (GUM 4.3.7)', () => {
    // 4 % of 61 N·m = 2.44 N·m; 2.44/√3 = 1.408735, recomputed.
    expect(uncertainty({ torqueTool: tool('II', 'A', q('100', 'N.m')) }, q('61.0', 'N.m'))).toBe(1.41);
    // 1 % of 400 bar = 4 bar; 4/√3 = 2.309401, recomputed. Class in % of the span: EN 837-1:1996, table 11.
    expect(uncertainty(gauge('1.0'), q('250', 'bar'))).toBe(2.31);
    expect(uncertainty(gauge('1.0'), q('3', 'bar'))).toBe(2.31);
    expect(basis(gauge('1.0'), q('250', 'bar'))).toBe('type-and-class');
  });

  it('has its class of the whole scale, where its range begins below zero or is stated from higher up', () => {
    expect(uncertainty(gauge('1.6', q('15', 'bar'), q('-1', 'bar')), q('10', 'bar'))).toBe(0.148); // 0.256/√3
    expect(uncertainty(gauge('1.0', q('400', 'bar'), q('40', 'bar')), q('250', 'bar'))).toBe(2.31);
    expect(uncertainty(gauge('2', q('120', 'degC'), q('20', 'degC')), q('50', 'degC'))).toBe(1.15); // 2/√3
    expect(uncertainty(gauge('2', q('248', 'degF'), q('20', 'degC')), q('50', 'degC'))).toBe(1.15);
  });

  it('is not known to be anything where its class is no number, or where it measures something else', () => {
    for (const name of ['fine', '', '0', '1,0', '-1']) expect(uncertainty(gauge(name), q('250', 'bar'))).toBeNull();
    expect(uncertainty(gauge('1.0'), q('50', 'degC'))).toBeNull();
    expect(uncertainty({ torqueTool: tool('II', 'A', q('100', 'N.m')) }, q('250', 'bar'))).toBeNull();
    expect(basis({}, q('250', 'bar'))).toBeNull();
  });
});

describe('a permissible deviation that somebody states', () => {
  it('counts before type and class, in % of the reading or as a difference', () => {
    const torqueTool = tool('II', 'A', q('100', 'N.m'));
    expect(uncertainty({ torqueTool, permissible: q('3', '%') }, q('61.0', 'N.m'))).toBe(1.06); // 1.83/√3
    expect(uncertainty({ torqueTool, permissible: q('1', 'lbf.ft') }, q('61.0', 'N.m'))).toBe(0.783); // 1.355818/√3
    expect(basis({ torqueTool, permissible: q('3', '%') }, q('61.0', 'N.m'))).toBe('stated');
  });

  it('says nothing in another dimension, nor as a part of a temperature: then type and class count', () => {
    expect(basis({ ...gauge('1.0'), permissible: q('3', 'N.m') }, q('250', 'bar'))).toBe('type-and-class');
    expect(uncertainty({ permissible: q('3', '%') }, q('50', 'degC'))).toBeNull();
    expect(uncertainty({ permissible: q('1.8', 'degF') }, q('50', 'degC'))).toBe(0.577); // 1/√3
  });

  it('of a reading in % is in points', () => {
    expect(uncertainty({ permissible: q('2', '%') }, q('50', '%'))).toBe(1.15);
  });
});

describe('what comes on top', () => {
  const permissible = q('3', 'N.m'); // variance 3

  it('is half a step of the scale either way, r/√12 (GUM F.2.2.1), and the dispersion of a tool that clicks', () => {
    expect(uncertainty({ permissible, resolution: q('6', 'N.m') }, q('61', 'N.m'))).toBe(2.45); // √(3 + 3)
    expect(uncertainty({ permissible, dispersion: q('1', 'N.m') }, q('61', 'N.m'))).toBe(2); // √(3 + 1)
    expect(uncertainty({ permissible, dispersion: q('2', '%') }, q('50', 'N.m'))).toBe(2);
    const both = { permissible, dispersion: q('1', 'N.m'), resolution: q('6', 'N.m') };
    expect(uncertainty(both, q('61', 'N.m'))).toBe(2.65); // √7
  });

  it('is no uncertainty by itself, and nothing in another dimension', () => {
    expect(uncertainty({ resolution: q('1', 'N.m'), dispersion: q('1', '%') }, q('61', 'N.m'))).toBeNull();
    expect(uncertainty({ permissible, resolution: q('1', 'bar') }, q('61', 'N.m'))).toBe(1.73);
  });
});

describe('a calibrated instrument', () => {
  const wrench: Instrument = {
    points: [
      point(q('60', 'N.m'), q('-2', '%'), q('1.2', '%')),
      point(q('20', 'N.m'), q('-4', '%'), q('2', '%')),
      point(q('100', 'N.m'), q('0', '%'), q('0.8', '%')),
    ],
    permissible: q('4', '%'),
  };

  it('that reads low gave more: indicated/(1 + deviation)', () => {
    expect(estimate(wrench, q('60', 'N.m'))).toBeCloseTo(60 / 0.98, 3);
    expect(estimate(wrench, q('100', 'N.m'))).toBe(100);
    const low = { points: [point(q('60', 'N.m'), q('-5', '%'), q('0', '%'))] };
    expect(estimate(low, q('57', 'N.m'))).toBe(60);
    const high = { points: [point(q('60', 'N.m'), q('25', '%'), q('0', '%'))] };
    expect(estimate(high, q('60', 'N.m'))).toBe(48);
  });

  it('is taken by its certificate before anything that is stated: u = U/k (GUM 6.2.1)', () => {
    expect(basis(wrench, q('60', 'N.m'))).toBe('calibration');
    expect(uncertainty(wrench, q('60', 'N.m'))).toBe(0.36); // 0.6 % of 60
    const tripled = { points: [point(q('60', 'N.m'), q('0', '%'), q('1.2', '%'), '3')] };
    expect(uncertainty(tripled, q('60', 'N.m'))).toBe(0.24);
  });

  it('is taken in a straight line between two points of its certificate, whatever their order', () => {
    expect(estimate(wrench, q('40', 'N.m'))).toBeCloseTo(40 / 0.97, 3);
    expect(uncertainty(wrench, q('40', 'N.m'))).toBe(0.32); // 0.8 % of 40, between 1 % and 0.6 %
  });

  it('keeps the deviation of the outermost point beyond it, and has the larger uncertainty of the two next', () => {
    expect(estimate(wrench, q('10', 'N.m'))).toBeCloseTo(10 / 0.96, 3);
    expect(uncertainty(wrench, q('10', 'N.m'))).toBe(0.1); // 1 %
    expect(estimate(wrench, q('120', 'N.m'))).toBe(120);
    expect(uncertainty(wrench, q('120', 'N.m'))).toBe(0.72); // 0.6 %, of the point at 60 N·m
  });

  it('is taken by its one point everywhere, where there is one', () => {
    const one = { points: [point(q('60', 'N.m'), q('-2', '%'), q('1.2', '%'))] };
    expect([estimate(one, q('98', 'N.m')), uncertainty(one, q('98', 'N.m'))]).toEqual([100, 0.588]);
  });

  it('has the larger uncertainty of a point that was calibrated twice', () => {
    const [fine, coarse] = ['1', '2'].map((percent) => point(q('60', 'N.m'), q('0', '%'), q(percent, '%')));
    for (const points of [
      [fine, coarse],
      [coarse, fine],
    ]) {
      expect(uncertainty({ points: points.filter((one) => one !== undefined) }, q('60', 'N.m'))).toBe(0.6);
    }
  });

  it('is of unknown uncertainty where a point that counts there has none; how far off it is stays known', () => {
    const unsure = { ...point(q('60', 'N.m'), q('-2', '%'), q('1', '%')), uncertainty: null };
    const sure = point(q('20', 'N.m'), q('-4', '%'), q('2', '%'));
    const far = point(q('100', 'N.m'), q('0', '%'), q('2', '%'));
    const half = { points: [sure, unsure, far], resolution: q('1', 'N.m') };
    expect(estimate(half, q('40', 'N.m'))).toBeCloseTo(40 / 0.97, 3);
    for (const value of ['10', '40', '60', '80', '120']) expect(uncertainty(half, q(value, 'N.m'))).toBeNull();
    expect(uncertainty({ points: [sure, unsure, far] }, q('20', 'N.m'))).toBe(0.2); // 1 % of 20, at that very point
    const twice = point(q('60', 'N.m'), q('-2', '%'), q('1', '%'));
    for (const points of [
      [unsure, twice],
      [twice, unsure],
    ])
      expect(uncertainty({ points }, q('60', 'N.m'))).toBeNull();
    expect(basis({ points: [unsure] }, q('60', 'N.m'))).toBe('calibration');
  });

  it('may be off by a difference, as a gauge is', () => {
    const off: Instrument = {
      points: [
        point(q('200', 'bar'), q('-2', 'bar'), q('1', 'bar')),
        point(q('300', 'bar'), q('-0.4', 'MPa'), q('100', 'kPa')),
      ],
    };
    expect([estimate(off, q('250', 'bar')), uncertainty(off, q('250', 'bar'))]).toEqual([253, 0.5]);
    expect(estimate(off, q('0', 'bar'))).toBe(2);
  });

  it('may have points of both forms: between them the difference at the reading is taken', () => {
    const mixed: Instrument = {
      points: [
        point(q('200', 'bar'), q('-2', 'bar'), q('1', 'bar')),
        point(q('300', 'bar'), q('25', '%'), q('1', 'bar')),
      ],
    };
    // At 250 bar: −2 bar by the one, 250 − 250/1.25 = +50 bar by the other; half way +24 bar.
    expect(estimate(mixed, q('250', 'bar'))).toBe(226);
  });

  it('is taken by what is stated where the certificate means nothing for the reading', () => {
    const stated = q('4', 'bar');
    for (const points of [
      [],
      [point(q('60', 'N.m'), q('0', '%'), q('1', '%'))],
      [point(q('200', 'bar'), q('1', 'N.m'), q('1', 'bar'))],
      [point(q('200', 'bar'), q('1', 'bar'), q('1', 'N.m'))],
      [point(q('200', 'bar'), q('-100', '%'), q('1', 'bar'))],
      [point(q('200', 'bar'), q('1', '%'), q('1', 'bar')), point(q('60', 'N.m'), q('0', '%'), q('1', '%'))],
    ]) {
      expect(basis({ points, permissible: stated }, q('250', 'bar'))).toBe('stated');
    }
  });
});

describe('an extension', () => {
  // Lever rule; 61 N·m through arm 400, extension 50 is reached with 54.222 on the tool (recomputed).
  const extension = { arm: q('400', 'mm'), extension: q('50', 'mm') };

  it('makes M·(L+E)/L arrive, as uncertain in proportion', () => {
    const through = estimateThrough(
      q('48', 'N.m'),
      accuracyAt({ permissible: q('3', 'N.m') }, q('48', 'N.m')),
      extension,
    );
    expect(estimateAsQuantity(through, q('48', 'N.m'))).toEqual(q('54.00', 'N.m'));
    expect(standardUncertaintyOf(through)).toEqual(q('1.95', 'N.m')); // √3 · 1.125
    const set = estimateThrough(q('54.222', 'N.m'), accuracyAt({}, q('54.222', 'N.m')), extension);
    expect(estimateAsQuantity(set, q('54.222', 'N.m'))).toEqual(q('60.9998', 'N.m'));
    expect(standardUncertaintyOf(set)).toBeNull();
  });

  it('may be given in another unit than the arm', () => {
    const longer = { arm: q('400', 'mm'), extension: q('50000', 'um') };
    const through = estimateThrough(q('48', 'N.m'), accuracyAt({}, q('48', 'N.m')), longer);
    expect(numberIn(estimateAsQuantity(through, q('48', 'N.m')), 'N.m')).toBe(54);
  });
});

describe('the difference of two readings', () => {
  it('is as uncertain as both together: two 400 bar gauges of class 1.0 have U = 6.5 bar', () => {
    const [one, other] = [q('270', 'bar'), q('20', 'bar')].map((reading) =>
      estimateThrough(reading, accuracyAt(gauge('1.0'), reading)),
    );
    if (one === undefined || other === undefined) throw new Error('two were made');
    const between = differenceOf(one, other);
    expect(numberIn(estimateAsQuantity(between, q('250', 'bar')), 'bar')).toBe(250);
    // Two gauges, each 4/√3 bar: U = 2·√2·4/√3 = 6.532 bar, recomputed.
    expect(2 * Number(standardUncertaintyOf(between)?.value)).toBeCloseTo(6.53, 1);
  });

  it('is not known where either is not', () => {
    const [known, unknown] = [estimateOf(q('270', 'bar')), estimateOf(q('20', 'bar'), null)];
    expect([differenceOf(known, unknown).variance, differenceOf(unknown, known).variance]).toEqual([null, null]);
  });
});

describe('exact numbers as doubles', () => {
  it('come out right also where their terms are longer than a double takes', () => {
    const third = accuracyAt({ permissible: q('1', 'N.m') }, q('1', 'N.m')).variance;
    if (third === null) throw new Error('it is known');
    const long = third.pow(900).add(third);
    expect(long.valueOf()).toBeNaN();
    expect(doubleOf(long)).toBeCloseTo(1 / 3, 15);
    expect(doubleOf(third.neg())).toBeCloseTo(-1 / 3, 15);
  });
});
