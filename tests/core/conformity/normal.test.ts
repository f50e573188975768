import { erf } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { normalCdf } from '../../../src/core/conformity/normal.ts';

describe('the normal distribution', () => {
  // Abramowitz & Stegun, Handbook of Mathematical Functions (1964), table 26.1, 15 decimals (from memory, recomputed).
  it.each([
    [0, 0.5],
    [0.5, 0.691462461274013],
    [1, 0.841344746068543],
    [2, 0.977249868051821],
    [3, 0.99865010196837],
  ])('has Φ(%d) = %d', (z, printed) => {
    expect(Math.abs(normalCdf(z) - printed)).toBeLessThan(1e-14);
    expect(Math.abs(normalCdf(-z) - (1 - printed))).toBeLessThan(1e-14);
  });

  // Far tails, recomputed with 50 digits: Φ(−8), Φ(−20), Φ(−37).
  it.each([
    [-8, 6.220960574271785e-16],
    [-20, 2.753624118606234e-89],
    [-37, 5.725571222524577e-300],
  ])('keeps its digits far below the mean, at %d', (z, expected) => {
    expect(Math.abs(normalCdf(z) / expected - 1)).toBeLessThan(1e-12);
  });

  it('agrees with the error function of a general library to 1e-12 everywhere, and on both sides of where its two ways meet', () => {
    const places = Array.from({ length: 4001 }, (_, index) => (index - 2000) / 250);
    const apart = [...places, 2.4999999, 2.5000001].map((z) => Math.abs(normalCdf(z) - (1 + erf(z / Math.SQRT2)) / 2));
    expect(Math.max(...apart)).toBeLessThan(1e-12);
  });

  it('ends at 0 and 1', () => {
    expect(normalCdf(Number.NEGATIVE_INFINITY)).toBe(0);
    expect(normalCdf(Number.POSITIVE_INFINITY)).toBe(1);
    expect(normalCdf(-40)).toBe(0);
  });
});
