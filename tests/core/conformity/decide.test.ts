import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decide, type Verdict } from '../../../src/core/conformity/decide.ts';
import { type DecisionRule, decisionRuleFor } from '../../../src/core/conformity/decision-rule.ts';
import { rangeOf } from '../../../src/core/quantity/range.ts';
import { estimated, q, within } from './given.ts';

const simple: DecisionRule = { name: 'simple' };
const band = (factor: number): DecisionRule => ({ name: 'guard-band', factor });

describe('simple acceptance', () => {
  const verdict = (value: string, uncertainty: string | null) =>
    decide(estimated(value, uncertainty, 'N.m'), within('23', '27', 'N.m'), simple).verdict;

  it('takes both limits for good, to the last decimal (JCGM 106:2012, 8.2)', () => {
    expect(verdict('23', '0.25')).toBe('conforms');
    expect(verdict('27.000', '0.25')).toBe('conforms');
    expect(verdict('22.999999999999', '0.25')).toBe('outside');
    expect(verdict('27.000000000001', '0.25')).toBe('outside');
  });

  it('asks nothing of the uncertainty', () => {
    expect([verdict('23', '0'), verdict('23', null), verdict('23', '9')]).toEqual(['conforms', 'conforms', 'conforms']);
    expect([verdict('22', '0'), verdict('22', null), verdict('22', '9')]).toEqual(['outside', 'outside', 'outside']);
  });

  it('knows no conditional zones, and can always accept something', () => {
    const decision = decide(estimated('26.9', '2', 'N.m'), within('23', '27', 'N.m'), simple);
    expect(decision).toEqual({ verdict: 'conforms', zone: 'pass', canConform: true });
  });

  it('accepts nothing between limits that are the wrong way round', () => {
    const decision = decide(estimated('25', '0', 'N.m'), within('27', '23', 'N.m'), simple);
    expect(decision).toEqual({ verdict: 'outside', zone: 'fail', canConform: false });
  });
});

describe('a guard band of w = U = 2u', () => {
  const decision = (value: string, min: string | null = '23', max: string | null = '27', uncertainty = '0.25') =>
    decide(estimated(value, uncertainty, 'N.m'), within(min, max, 'N.m'), band(1));

  // ILAC-G8:09/2019, 4.2.3, at both limits: w = 0.5 N·m. A place on an edge belongs to the better side.
  it.each([
    ['25', 'pass', 'conforms'],
    ['23.5', 'pass', 'conforms'],
    ['23.499999', 'conditional-pass', 'undecided'],
    ['23', 'conditional-pass', 'undecided'],
    ['22.999999', 'conditional-fail', 'undecided'],
    ['22.5', 'conditional-fail', 'undecided'],
    ['22.499999', 'fail', 'outside'],
    ['26.5', 'pass', 'conforms'],
    ['26.500001', 'conditional-pass', 'undecided'],
    ['27', 'conditional-pass', 'undecided'],
    ['27.5', 'conditional-fail', 'undecided'],
    ['27.500001', 'fail', 'outside'],
  ])('has %s N·m between 23 and 27 as a %s, which is %s', (value, zone, verdict) => {
    expect(decision(value)).toEqual({ zone, verdict, canConform: true });
  });

  it('is held at the only limit where there is one', () => {
    expect([decision('23.5', '23', null).zone, decision('23.4', '23', null).zone]).toEqual([
      'pass',
      'conditional-pass',
    ]);
    expect([decision('26.5', null, '27').zone, decision('27.6', null, '27').zone]).toEqual(['pass', 'fail']);
    expect(decision('999', '23', null).verdict).toBe('conforms');
  });

  it('decides on the limit as simple acceptance does where there is no uncertainty', () => {
    expect(decision('23', '23', '27', '0')).toEqual({ verdict: 'conforms', zone: 'pass', canConform: true });
    expect(decision('22.9999', '23', '27', '0')).toMatchObject({ verdict: 'outside', zone: 'fail' });
  });

  it('accepts one point where it takes up the whole tolerance, and none where it takes up more', () => {
    expect(decision('25', '24.5', '25.5')).toEqual({ verdict: 'conforms', zone: 'pass', canConform: true });
    expect(decision('25', '24.6', '25.4')).toEqual({
      ...{ verdict: 'undecided', zone: 'conditional-pass', canConform: false },
    });
  });

  it('has far outside outside also where it can accept nothing: so much the instrument can tell', () => {
    expect(decision('20', '24.6', '25.4')).toEqual({ verdict: 'outside', zone: 'fail', canConform: false });
  });

  it('is undecided where the uncertainty is not known, whatever was read', () => {
    for (const value of ['25', '23', '1']) {
      const unknown = decide(estimated(value, null, 'N.m'), within('23', '27', 'N.m'), band(1));
      expect(unknown).toEqual({ verdict: 'undecided', zone: null, canConform: false });
    }
  });
});

describe('what is demanded', () => {
  it('sets no limit by a target alone, or with an angle: the angle is counted, not judged by torque', () => {
    for (const requirement of [{ target: q('30', 'N.m'), angle: q('90', 'deg') }, { target: q('30', 'N.m') }]) {
      const decision = decide(estimated('12', null, 'N.m'), rangeOf(requirement), band(1));
      expect(decision).toEqual({ verdict: 'conforms', zone: 'pass', canConform: true });
    }
  });

  it('is judged by the torque part alone where a target has a tolerance and an angle', () => {
    const range = rangeOf({ target: q('30', 'N.m'), tolerance: q('2', 'N.m'), angle: q('90', 'deg') });
    expect(decide(estimated('32', '0', 'N.m'), range, band(1)).verdict).toBe('conforms');
    expect(decide(estimated('32.1', '0', 'N.m'), range, band(1)).verdict).toBe('outside');
  });

  it('is judged by its own rule, else by the guard band of the edition, else by simple acceptance', () => {
    expect(decisionRuleFor(undefined, undefined)).toEqual(simple);
    expect(decisionRuleFor(undefined, 0.5)).toEqual(band(0.5));
    expect(decisionRuleFor('simple', 0.5)).toEqual(simple);
    expect(decisionRuleFor('guard-band', 0.5)).toEqual(band(0.5));
    expect(decisionRuleFor('guard-band', undefined)).toEqual(band(1));
  });
});

describe('guard bands in general', () => {
  const hundredths = (min: number, max: number) => fc.integer({ min, max }).map((count) => (count / 100).toFixed(2));
  const factor = fc.constantFrom(0, 0.1, 0.25, 0.5, 1, 1.5, 2, 10);
  const order: Record<Verdict, number> = { conforms: 0, undecided: 1, outside: 2 };
  const limits = fc.constantFrom(within('23', '27', 'N.m'), within('23', null, 'N.m'), within(null, '27', 'N.m'));

  it('never accept more, and never reject more, for being wider', () => {
    fc.assert(
      fc.property(hundredths(2000, 3000), hundredths(0, 150), factor, factor, limits, (value, u, one, other, range) => {
        const estimate = estimated(value, u, 'N.m');
        const narrow = decide(estimate, range, band(Math.min(one, other)));
        const wide = decide(estimate, range, band(Math.max(one, other)));
        if (wide.verdict === 'conforms') expect(narrow.verdict).toBe('conforms');
        if (wide.verdict === 'outside') expect(narrow.verdict).toBe('outside');
        if (wide.canConform) expect(narrow.canConform).toBe(true);
      }),
    );
  });

  it('of no width are simple acceptance', () => {
    fc.assert(
      fc.property(hundredths(2000, 3000), fc.option(hundredths(0, 150)), limits, (value, u, range) => {
        const estimate = estimated(value, u, 'N.m');
        expect(decide(estimate, range, band(0))).toEqual(decide(estimate, range, simple));
      }),
    );
  });

  it('never say better of what lies further out, and accept nothing where they can accept nothing', () => {
    fc.assert(
      fc.property(hundredths(2500, 3000), hundredths(2500, 3000), hundredths(0, 200), factor, (one, other, u, r) => {
        const [near, far] = Number(one) <= Number(other) ? [one, other] : [other, one];
        const of = (value: string) => decide(estimated(value, u, 'N.m'), within('23', '27', 'N.m'), band(r));
        expect(order[of(far).verdict]).toBeGreaterThanOrEqual(order[of(near).verdict]);
        if (!of(near).canConform) expect(of(near).verdict).not.toBe('conforms');
        expect(of('25').verdict === 'conforms').toBe(of('25').canConform);
      }),
    );
  });
});
