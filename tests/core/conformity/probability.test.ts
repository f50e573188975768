import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { probabilityOf } from '../../../src/core/conformity/probability.ts';
import { estimated, within } from './given.ts';

describe('the probability of conformity', () => {
  // JCGM 106:2012: one upper limit, −5.47 ± 0.05 under −5.40 (from memory for the statement, recomputed); two limits
  // 12.5 … 16.3, 13.6, u 1.8 (from memory, recomputed). The dimension of both is without interest here.
  it.each([
    ['-5.47', '0.05', null, '-5.40', 0.919243],
    ['13.6', '1.8', '12.5', '16.3', 0.66263],
  ])('of %s with u = %s between %s and %s is as in JCGM 106', (value, uncertainty, min, max, expected) => {
    const found = probabilityOf(estimated(value, uncertainty, 'mm'), within(min, max, 'mm'));
    expect(found).toBeCloseTo(expected, 6);
  });

  // Recomputed: 25 ± 2 N·m, u = 0.25 N·m.
  it.each([
    ['23.4', 0.945201],
    ['23.0', 0.5],
    ['22.8', 0.211855],
    ['27.2', 0.211855],
  ])('of %s N·m between 23 and 27 with u = 0.25 is %d', (value, expected) => {
    expect(probabilityOf(estimated(value, '0.25', 'N.m'), within('23', '27', 'N.m'))).toBeCloseTo(expected, 6);
  });

  it('is 1 or 0 without uncertainty, limits included, and not known where the uncertainty is not', () => {
    const of = (value: string, uncertainty: string | null) =>
      probabilityOf(estimated(value, uncertainty, 'N.m'), within('23', '27', 'N.m'));
    expect([of('23', '0'), of('27.0', '0'), of('25', '0')]).toEqual([1, 1, 1]);
    expect([of('22.999999999', '0'), of('27.000000001', '0')]).toEqual([0, 0]);
    expect(of('25', null)).toBeNull();
  });

  it('is a half on a single limit, and 1 where there is none', () => {
    expect(probabilityOf(estimated('23', '0.25', 'N.m'), within('23', null, 'N.m'))).toBe(0.5);
    expect(probabilityOf(estimated('23', '0.25', 'N.m'), within(null, null, 'N.m'))).toBe(1);
  });

  it('is nothing between limits that are the wrong way round', () => {
    expect(probabilityOf(estimated('25', '0.25', 'N.m'), within('27', '23', 'N.m'))).toBe(0);
  });

  it('keeps its digits far outside either limit: Φ(−8) = 6.22096e-16', () => {
    const below = probabilityOf(estimated('21', '0.25', 'N.m'), within('23', '27', 'N.m'));
    const above = probabilityOf(estimated('29', '0.25', 'N.m'), within('23', '27', 'N.m'));
    expect((below ?? 0) / 6.220960574271785e-16).toBeCloseTo(1, 10);
    expect((above ?? 0) / 6.220960574271785e-16).toBeCloseTo(1, 10);
  });

  it('falls with the distance from the middle of the limits, and lies between 0 and 1', () => {
    const hundredths = fc.integer({ min: 0, max: 1000 });
    fc.assert(
      fc.property(hundredths, hundredths, fc.integer({ min: 1, max: 500 }), fc.boolean(), (one, other, u, isBelow) => {
        const at = (distance: number) => {
          const value = ((isBelow ? -distance : distance) / 100 + 25).toFixed(2);
          return probabilityOf(estimated(value, (u / 100).toFixed(2), 'N.m'), within('23', '27', 'N.m')) ?? -1;
        };
        const [near, far] = [at(Math.min(one, other)), at(Math.max(one, other))];
        expect(near).toBeGreaterThanOrEqual(far - 1e-15);
        expect(far).toBeGreaterThanOrEqual(0);
        expect(near).toBeLessThanOrEqual(1);
      }),
    );
  });
});
