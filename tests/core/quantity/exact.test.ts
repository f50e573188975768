import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalOf } from '../../../src/core/quantity/decimal.ts';
import { add, compare, inUnit, isWithin, numberIn, subtract, times } from '../../../src/core/quantity/exact.ts';
import { dimensionOf, units } from '../../../src/core/quantity/unit.ts';

const q = (value: string, unit: string) => ({ value, unit });
const reading = fc
  .tuple(fc.integer({ min: -999_999, max: 999_999 }), fc.integer({ min: 0, max: 4 }))
  .map(([digits, decimals]) => decimalOf(digits / 10 ** decimals));
const pairOfUnits = fc
  .tuple(fc.constantFrom(...units), fc.constantFrom(...units))
  .filter(([a, b]) => dimensionOf(a) === dimensionOf(b));

describe('comparing', () => {
  it('goes by size, not by the digits written', () => {
    expect(compare(q('61.0', 'N.m'), q('61', 'N.m'))).toBe(0);
    expect(compare(q('9', 'bar'), q('10', 'bar'))).toBe(-1);
    expect(compare(q('1', 'L'), q('999.999', 'cm3'))).toBe(1);
    expect(compare(q('-40', 'degC'), q('-40', 'degF'))).toBe(0);
    expect(compare(q('0', 'degC'), q('31.9', 'degF'))).toBe(1);
  });

  it('sees a difference that doubles would lose', () => {
    // 12 lbf·ft is 16.269815379976804 8 N·m exactly (from the definitions); the neighbours differ in the 15th digit.
    expect(compare(q('12', 'lbf.ft'), q('16.2698153799768', 'N.m'))).toBe(1);
    expect(compare(q('12', 'lbf.ft'), q('16.2698153799769', 'N.m'))).toBe(-1);
    expect(compare(q('0.3', 'bar'), add(q('0.1', 'bar'), q('0.2', 'bar')))).toBe(0);
  });

  it('throws on different dimensions, unknown units and what is no decimal', () => {
    expect(() => compare(q('1', 'bar'), q('1', 'N.m'))).toThrow('bar measures pressure and N.m measures torque');
    expect(() => compare(q('1', 'furlong'), q('1', 'N.m'))).toThrow(RangeError);
    expect(() => compare(q('1/3', 'bar'), q('1', 'bar'))).toThrow('"1/3" is not a plain decimal');
  });

  it('puts both limits within the range and takes null for no limit', () => {
    const [min, max] = [q('23', 'N.m'), q('27', 'N.m')];
    expect(isWithin(q('23.0', 'N.m'), min, max)).toBe(true);
    expect(isWithin(q('27.0', 'N.m'), min, max)).toBe(true);
    expect(isWithin(q('22.999', 'N.m'), min, max)).toBe(false);
    expect(isWithin(q('27.001', 'N.m'), min, max)).toBe(false);
    expect(isWithin(q('22', 'N.m'), null, max)).toBe(true);
    expect(isWithin(q('28', 'N.m'), min, null)).toBe(true);
  });

  it('gives the same answer in whatever unit the two values were entered, when the other is written exactly', () => {
    const terminating = ([a, b]: readonly string[]) => a !== undefined && b !== undefined && endsAsDecimal(a, b);
    fc.assert(
      fc.property(reading, reading, pairOfUnits.filter(terminating), (one, other, [from, to]) => {
        const inOther = (value: string) => q(inUnit(q(value, from), to, { decimals: 40 }).value, to);
        const expected = compare(q(one, from), q(other, from));
        expect(compare(inOther(one), q(other, from))).toBe(expected);
        expect(compare(q(one, from), inOther(other))).toBe(expected);
        expect(compare(inOther(one), inOther(other))).toBe(expected);
      }),
    );
  });

  it('keeps the order in every pair of units, and turns it round when the two are exchanged', () => {
    fc.assert(
      fc.property(reading, reading, pairOfUnits, (one, other, [from, to]) => {
        const order = compare(q(one, from), q(other, to));
        expect(compare(q(other, to), q(one, from))).toBe(order === 0 ? 0 : -order);
        const [a, b] = [numberIn(q(one, from), to), Number(other)];
        if (Math.abs(a - b) > 1e-9 * Math.max(Math.abs(a), Math.abs(b), 1)) expect(order).toBe(Math.sign(a - b));
      }),
    );
  });
});

describe('sums', () => {
  it('are exact and in the unit of the first', () => {
    expect(add(q('250', 'bar'), q('0.4', 'MPa'))).toEqual(q('254', 'bar'));
    expect(subtract(q('250', 'bar'), q('50', 'kPa'))).toEqual(q('249.5', 'bar'));
    expect(add(q('0', 'N.m'), q('1', 'lbf.ft'))).toEqual(q('1.3558179483314004', 'N.m'));
    expect(times(q('15', 'bar'), -1)).toEqual(q('-15', 'bar'));
    expect(times(q('61.0', 'N.m'), '0.04')).toEqual(q('2.44', 'N.m'));
    expect(times(q('4', 'bar'), 1e-7)).toEqual(q('0.0000004', 'bar'));
  });

  it('take the second temperature for a difference', () => {
    expect(add(q('50', 'degC'), q('9', 'degF'))).toEqual(q('55', 'degC'));
    expect(subtract(q('50', 'degC'), q('5', 'degC'))).toEqual(q('45', 'degC'));
  });

  it('keep 60 decimals where they have no end as a decimal', () => {
    const sum = add(q('250', 'bar'), q('50', 'psi'));
    // 50 psi = 3.447 378 646 584 18… bar, from the psi of 6 894.757 293 168 361… Pa
    expect(sum.value).toMatch(/^253\.44737864658418\d{46}$/);
    expect(add(q('1', 'degC'), q('3', 'degF')).value).toMatch(/^2\.6{59}7$/);
  });

  it('refuse a difference of another dimension', () => {
    expect(() => add(q('1', 'bar'), q('4', '%'))).toThrow('bar');
  });

  it('undo each other', () => {
    fc.assert(
      fc.property(reading, reading, (a, b) => {
        expect(compare(subtract(add(q(a, 'bar'), q(b, 'kPa')), q(b, 'kPa')), q(a, 'bar'))).toBe(0);
      }),
    );
  });
});

describe('giving a value in another unit', () => {
  it('rounds half away from zero', () => {
    expect(inUnit(q('2.5', 'bar'), 'bar', { decimals: 0 }).value).toBe('3');
    expect(inUnit(q('-2.5', 'bar'), 'bar', { decimals: 0 }).value).toBe('-3');
    expect(inUnit(q('2.449', 'bar'), 'bar', { decimals: 1 }).value).toBe('2.4');
    expect(inUnit(q('-0.04', 'bar'), 'bar', { decimals: 1 }).value).toBe('0.0');
  });

  it.each([
    ['9.996', 3, '10.0'],
    ['0.099996', 4, '0.1000'],
    ['0.00123', 1, '0.001'],
    ['36259.4', 4, '36260'],
    ['-61', 4, '-61.00'],
    ['0', 3, '0.00'],
  ])('gives %s with %d significant digits as %s', (value, significant, expected) => {
    expect(inUnit(q(value, 'bar'), 'bar', { significant }).value).toBe(expected);
  });

  it('agrees with 61 N·m = 44.991 lbf·ft (recomputed from the definitions)', () => {
    expect(inUnit(q('61', 'N.m'), 'lbf.ft', { decimals: 3 })).toEqual(q('44.991', 'lbf.ft'));
  });

  it('comes back to the same reading from every unit of the dimension', () => {
    fc.assert(
      fc.property(reading, pairOfUnits, (value, [from, to]) => {
        const there = inUnit(q(value, from), to, { decimals: 30 });
        expect(Number(inUnit(there, from, { decimals: 10 }).value)).toBe(Number(value));
      }),
    );
  });
});

function endsAsDecimal(from: string, to: string): boolean {
  const [one, ten] = [inUnit(q('1', from), to, { decimals: 40 }), inUnit(q('10', from), to, { decimals: 40 })];
  return compare(one, q('1', from)) === 0 && compare(ten, q('10', from)) === 0;
}
