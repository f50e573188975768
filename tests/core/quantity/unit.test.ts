import { describe, expect, it } from 'vitest';
import { inUnit, numberIn } from '../../../src/core/quantity/exact.ts';
import { definitionOf, dimensionOf, likelyUnits, units } from '../../../src/core/quantity/unit.ts';

const one = (unit: string) => ({ value: '1', unit });

describe('sizes of units, against NIST SP 811 (2008) app. B.8', () => {
  // Printed factors, seven digits, as quoted by independent publications; psi, in³ and hp from memory.
  it.each([
    ['lbf.ft', 'N.m', 1.355818],
    ['lbf.in', 'N.m', 0.1129848],
    ['psi', 'kPa', 6.894757],
    ['bar', 'kPa', 100],
    ['gal/min', 'L/min', 3.785412],
    ['in3', 'cm3', 16.38706],
    ['hp', 'kW', 0.7456999],
  ])('agrees with the printed size of one %s in %s', (from, to, printed) => {
    expect(Math.abs(numberIn(one(from), to) / printed - 1)).toBeLessThan(5e-7);
  });

  // From the definitions (yard and pound agreement of 1959, standard free fall, 231 in³); recomputed independently.
  it.each([
    ['lbf.ft', 'N.m', '1.3558179483314004'],
    ['lbf.in', 'N.m', '0.1129848290276167'],
    ['psi', 'kPa', '6.894757293168361'],
    ['bar', 'kPa', '100.000'],
    ['gal/min', 'L/min', '3.785411784'],
    ['in3', 'cm3', '16.387064'],
    ['hp', 'kW', '0.74569987158227022'],
  ])('has the exact size of one %s in %s', (from, to, exact) => {
    const decimals = exact.split('.')[1]?.length ?? 0;
    expect(inUnit(one(from), to, { decimals })).toEqual({ value: exact, unit: to });
  });

  // SI Brochure, 9th edition: prefixes, minute and hour, litre; a turn is 360° by definition of the degree.
  it.each([
    ['MPa', 'kPa', '1000'],
    ['A', 'mA', '1000'],
    ['mm', 'um', '1000'],
    ['L', 'cm3', '1000'],
    ['h', 's', '3600'],
    ['turn', 'deg', '360'],
    ['lbf.ft', 'lbf.in', '12'],
  ])('has one %s in %s as defined', (from, to, exact) => {
    expect(inUnit(one(from), to, { decimals: 0 }).value).toBe(exact);
  });

  // Fixed points of the Celsius and Fahrenheit scales as NIST SP 811 (2008) B.8 defines them: t/°C = (t/°F − 32)/1.8.
  it.each([
    ['0', '32'],
    ['100', '212'],
    ['-40', '-40'],
    ['50', '122'],
  ])('has %s degC at %s degF', (celsius, fahrenheit) => {
    expect(inUnit({ value: celsius, unit: 'degC' }, 'degF', { decimals: 0 }).value).toBe(fahrenheit);
    expect(inUnit({ value: fahrenheit, unit: 'degF' }, 'degC', { decimals: 0 }).value).toBe(celsius);
  });
});

describe('the list of units', () => {
  it('is exactly the one of the contract and the catalogue', () => {
    const contract = 'N.m lbf.ft lbf.in bar psi MPa kPa L/min gal/min cm3 in3 mm r/min kW hp deg degC';
    const catalogue = 'mA A V ohm % Hz turn s h mm2/s um degF L kg';
    expect([...units].sort()).toEqual(`${contract} ${catalogue}`.split(' ').sort());
  });

  it('keeps what can be confused apart: a rotational speed is no frequency, a torque no energy', () => {
    expect(dimensionOf('r/min')).not.toBe(dimensionOf('Hz'));
    expect(dimensionOf('N.m')).toBe('torque');
  });

  it('throws on a unit outside it, names of object members among them', () => {
    expect(() => definitionOf('furlong')).toThrow(/"furlong" is not one of the units N\.m, /);
    expect(() => dimensionOf('constructor')).toThrow(RangeError);
  });

  it.each([
    ['Nm', ['N.m']],
    ['N·m', ['N.m']],
    ['ft-lb', ['lbf.ft']],
    ['Bar', ['bar']],
    ['cm³', ['cm3']],
    ['rpm', ['r/min']],
    ['°C', ['degC']],
    ['Pa', ['MPa', 'kPa']],
    ['furlong', []],
    ['constructor', []],
  ])('takes %s for %j', (written, meant) => {
    expect(likelyUnits(written)).toEqual(meant);
  });
});
