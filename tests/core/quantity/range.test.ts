import { describe, expect, it } from 'vitest';
import { isEmpty, rangeOf, tighten } from '../../../src/core/quantity/range.ts';

const q = (value: string, unit: string) => ({ value, unit });

describe('the limits of a requirement', () => {
  it('are target ± tolerance, exact', () => {
    expect(rangeOf({ target: q('61', 'N.m'), tolerance: q('3', 'N.m') })).toEqual({
      min: q('58', 'N.m'),
      max: q('64', 'N.m'),
    });
    expect(rangeOf({ target: q('61.0', 'N.m'), tolerance: q('4', '%') })).toEqual({
      min: q('58.56', 'N.m'),
      max: q('63.44', 'N.m'),
    });
    expect(rangeOf({ target: q('250', 'bar'), tolerance: q('0.4', 'MPa') })).toEqual({
      min: q('246', 'bar'),
      max: q('254', 'bar'),
    });
  });

  it('take a tolerance of a target in % in points', () => {
    expect(rangeOf({ target: q('50', '%'), tolerance: q('2', '%') })).toEqual({ min: q('48', '%'), max: q('52', '%') });
  });

  it('stay in order below zero', () => {
    expect(rangeOf({ target: q('-20', 'deg'), tolerance: q('10', '%') })).toEqual({
      min: q('-22', 'deg'),
      max: q('-18', 'deg'),
    });
  });

  it('are min and max as written', () => {
    expect(rangeOf({ min: q('200', 'bar'), max: q('265', 'bar') })).toEqual({
      min: q('200', 'bar'),
      max: q('265', 'bar'),
    });
    expect(rangeOf({ max: q('265', 'bar') })).toEqual({ min: null, max: q('265', 'bar') });
  });

  it('are those of both forms together where both are given', () => {
    const both = { target: q('250', 'bar'), tolerance: q('10', 'bar'), max: q('255', 'bar') };
    expect(rangeOf(both)).toEqual({ min: q('240', 'bar'), max: q('255', 'bar') });
  });

  it('are none for a bare target, with an angle or without', () => {
    expect(rangeOf({ target: q('20', 'N.m'), angle: q('90', 'deg') })).toEqual({ min: null, max: null });
    const tolerated = { target: q('20', 'N.m'), tolerance: q('1', 'N.m'), angle: q('90', 'deg') };
    expect(rangeOf(tolerated)).toEqual({ min: q('19', 'N.m'), max: q('21', 'N.m') });
  });
});

describe('two ranges together', () => {
  it('allow what both allow, whatever their units', () => {
    const a = { min: q('200', 'bar'), max: q('26.5', 'MPa') };
    const b = { min: q('21', 'MPa'), max: q('320', 'bar') };
    expect(tighten(a, b)).toEqual({ min: q('21', 'MPa'), max: q('26.5', 'MPa') });
    expect(tighten(b, a)).toEqual(tighten(a, b));
    expect(tighten(a, { min: null, max: null })).toEqual(a);
    expect(tighten({ min: null, max: null }, a)).toEqual(a);
  });

  it('are empty only when the limits have crossed', () => {
    expect(isEmpty({ min: q('2', 'bar'), max: q('1', 'bar') })).toBe(true);
    expect(isEmpty({ min: q('1', 'bar'), max: q('100', 'kPa') })).toBe(false);
    expect(isEmpty({ min: null, max: q('1', 'bar') })).toBe(false);
    expect(isEmpty({ min: q('1', 'bar'), max: null })).toBe(false);
  });
});
