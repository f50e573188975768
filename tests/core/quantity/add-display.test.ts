import { describe, expect, it } from 'vitest';
import { isReading, withDisplays } from '../../../src/core/quantity/add-display.ts';

// Recomputed from the definitions of NIST SP 811 (2008) app. B.8: 61 N·m = 44.991 lbf·ft, 4 N·m = 2.950 lbf·ft;
// a difference of 5 K is one of 9 °F, while 5 °C is 41 °F.
describe('an answer in other units', () => {
  it('has every reading as it was, and what it is in those units beside it', () => {
    const answer = { torques: [{ joint: 'a', reading: [{ value: '61.0', unit: 'N.m' }] }], at: null, count: 2 };
    expect(withDisplays(answer, 'imperial')).toEqual({
      torques: [{ joint: 'a', reading: [{ value: '61.0', unit: 'N.m', display: { value: '44.99', unit: 'lbf.ft' } }] }],
      at: null,
      count: 2,
    });
  });

  it('keeps what stands beside a reading', () => {
    const bound = { value: '50', unit: 'bar', from: 'function' };
    expect(withDisplays({ bound }, 'metric')).toEqual({ bound: { ...bound, display: { value: '50', unit: 'bar' } } });
  });

  it('takes a tolerance as a difference', () => {
    const torque = { target: { value: '61', unit: 'N.m' }, tolerance: { value: '4', unit: 'N.m' } };
    expect(withDisplays(torque, 'imperial').tolerance).toMatchObject({ display: { value: '2.950', unit: 'lbf.ft' } });
    const oil = { target: { value: '5', unit: 'degC' }, tolerance: { value: '5', unit: 'degC' } };
    expect(withDisplays(oil, 'imperial')).toMatchObject({
      target: { display: { value: '41', unit: 'degF' } },
      tolerance: { display: { value: '9', unit: 'degF' } },
    });
  });

  it('passes on what looks like a reading and is none', () => {
    const odd = [
      { value: '6,1', unit: 'N.m' },
      { value: '61', unit: 'Nm' },
      { value: 61, unit: 'N.m' },
      { value: '61', unit: 'constructor' },
    ];
    expect(withDisplays(odd, 'imperial')).toEqual(odd);
  });
});

describe('a reading', () => {
  it('is a plain decimal with a unit, and no text, list or nothing in its place', () => {
    expect(isReading({ value: '-6.1', unit: 'bar' })).toBe(true);
    for (const other of ['6.1 bar', 6.1, null, undefined, [], {}, { value: '6.1' }, { value: '1e3', unit: 'bar' }]) {
      expect(isReading(other), JSON.stringify(other)).toBe(false);
    }
  });
});
