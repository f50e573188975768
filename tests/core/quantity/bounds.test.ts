/** What no bench reads. The limits are our own, far beyond any workshop; absolute zero is not (SI Brochure, 2.3.1). */
import { describe, expect, it } from 'vitest';
import { quantitySchema } from '../../../src/core/quantity/quantity.ts';

const problems = (value: string, unit: string) =>
  quantitySchema.safeParse({ value, unit }).error?.issues.map(({ path, message }) => [`/${path.join('/')}`, message]) ??
  [];

describe('an absurd magnitude', () => {
  it.each([
    ['1000001', 'N.m', '1000000 N.m'],
    ['-1000001', 'N.m', '1000000 N.m'],
    // The same limit whatever the unit: 1 000 000 N·m is 737 562.149 lbf·ft.
    ['737563', 'lbf.ft', '1000000 N.m'],
    ['100001', 'bar', '100000 bar'],
    ['10001', 'MPa', '100000 bar'],
    ['1000000001', 'mA', undefined],
    ['1000001', 'kW', '1000000 kW'],
    ['5001', 'degC', '5000 degC'],
    ['1000001', 'h', '1000000 h'],
  ])('such as %s %s is refused at its place', (value, unit, most) => {
    const said = most ?? '1000000 A';
    expect(problems(value, unit)).toEqual([
      ['/value', `no bench reads ${value} ${unit}: check the value and its unit (at most ${said} is taken)`],
    ]);
  });

  it.each([
    ['-273.16', 'degC'],
    ['-459.68', 'degF'],
  ])('%s %s is colder than anything', (value, unit) => {
    expect(problems(value, unit)).toEqual([
      ['/value', `nothing is as cold as ${value} ${unit}: check the value and its unit`],
    ]);
  });

  it.each([
    ['1000000', 'N.m'],
    ['737562', 'lbf.ft'],
    ['-1000000', 'N.m'],
    ['-273.15', 'degC'],
    ['-459.67', 'degF'],
    ['5000', 'degC'],
    ['0.000000000000001', 'mm'],
    ['-40', 'degF'],
  ])('its neighbour %s %s is taken', (value, unit) => {
    expect(problems(value, unit)).toEqual([]);
  });

  it('is not looked for where the value or the unit is none', () => {
    expect(problems('9999999', 'Nm')).toHaveLength(1);
    expect(problems('1e9', 'N.m')).toHaveLength(1);
  });
});
