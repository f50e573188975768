/** Sizes of units against mathjs, a general library that knows nothing of us; what it doesn't have is named. */
import { all, create } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { numberIn } from '../../../src/core/quantity/exact.ts';
import { dimensionOf, units } from '../../../src/core/quantity/unit.ts';

const math = create(all ?? {}, {});
const theirs: Readonly<Record<string, string>> = {
  ...{ 'N.m': 'N m', 'lbf.ft': 'lbf ft', 'lbf.in': 'lbf in', bar: 'bar', psi: 'psi', MPa: 'MPa', kPa: 'kPa' },
  ...{ 'L/min': 'L/minute', 'gal/min': 'gal/minute', cm3: 'cm^3', in3: 'in^3', L: 'L', mm: 'mm', um: 'um' },
  ...{ 'r/min': 'cycle/minute', kW: 'kW', deg: 'deg', turn: 'cycle', degC: 'degC', degF: 'degF' },
  ...{ mA: 'mA', A: 'A', V: 'V', ohm: 'ohm', Hz: 'Hz', s: 's', h: 'hour', 'mm2/s': 'mm^2/s', kg: 'kg' },
};
/** Its hp is the one of 745.6998715386 W, rounded; a percent it has as an operator. */
const without = ['%', 'hp'];

describe('a value in another unit', () => {
  it('is looked up for every unit there is', () => {
    expect([...Object.keys(theirs), ...without].sort()).toEqual([...units].sort());
  });

  const pairs = Object.keys(theirs).flatMap((from) =>
    Object.keys(theirs)
      .filter((to) => from !== to && dimensionOf(from) === dimensionOf(to))
      .map((to) => [from, to] as const),
  );
  it.each(pairs)('from %s to %s is what the library says', (from, to) => {
    for (const value of ['1', '61.5', '-12.25']) {
      const reference = math.unit(Number(value), theirs[from] ?? '').toNumber(theirs[to] ?? '');
      // Relative, but near zero of temperatures: 1e-9 of the reading or of a degree.
      const off = Math.abs(numberIn({ value, unit: from }, to) - reference);
      expect(off / Math.max(1, Math.abs(reference))).toBeLessThan(1e-9);
    }
  });
});
