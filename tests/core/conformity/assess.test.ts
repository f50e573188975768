import { describe, expect, it } from 'vitest';
import type { Instrument } from '../../../src/core/conformity/accuracy.ts';
import { type Asked, assess } from '../../../src/core/conformity/assess.ts';
import { outlookOf } from '../../../src/core/conformity/outlook.ts';
import { q, within } from './given.ts';

const guardBand = { name: 'guard-band', factor: 1 } as const;
const simple = { name: 'simple' } as const;
const gauge: Instrument = { classed: { class: '1.0', range: { min: q('0', 'bar'), max: q('400', 'bar') } } };
const asked = (change: Partial<Asked> = {}): Asked => ({
  ...{ reading: q('250', 'bar'), range: within('246', '254', 'bar'), rule: guardBand, highest: q('400', 'bar') },
  ...change,
});

describe('a 400 bar gauge of class 1.0 on 250 ± 4 bar', () => {
  // Every day's case: 4 bar is both its permissible deviation and the tolerance. u = 4/√3 = 2.309401 bar, U = 4.618802 bar,
  // p = 2·Φ(√3) − 1 = 0.916735, T/(2U) = 0.866025 (recomputed).
  it('accepts nothing under a guard band of U, whatever it reads', () => {
    for (let value = 2400; value <= 2600; value += 1) {
      const { verdict, canConform } = assess(asked({ reading: q((value / 10).toFixed(1), 'bar') }), gauge);
      expect(verdict).not.toBe('conforms');
      expect(canConform).toBe(false);
    }
  });

  it('is told with all that it was decided by', () => {
    expect(assess(asked(), gauge)).toEqual({
      ...{ rule: 'guard-band', verdict: 'undecided', zone: 'conditional-pass', canConform: false },
      ...{ estimate: q('250', 'bar'), standardUncertainty: q('2.31', 'bar'), guardBand: q('4.62', 'bar') },
      ...{ probability: 0.916735, basis: 'type-and-class' },
      fitness: { ratio: 0.866, fit: false, partOfRange: 0.625 },
    });
  });

  it('accepts by simple acceptance, with the probability beside it', () => {
    expect(assess(asked({ rule: simple }), gauge)).toMatchObject({
      ...{ rule: 'simple', verdict: 'conforms', zone: 'pass', canConform: true, guardBand: null },
      ...{ probability: 0.916735, fitness: { fit: false } },
    });
  });

  it('can still tell that 200 bar is too little', () => {
    expect(assess(asked({ reading: q('200', 'bar') }), gauge)).toMatchObject({ verdict: 'outside', zone: 'fail' });
  });

  it('is known not to be able to decide before the work', () => {
    const range = within('246', '254', 'bar');
    const { canConform, at, guardBand: band } = outlookOf(range, guardBand, gauge, q('400', 'bar')) ?? {};
    expect({ canConform, at, band }).toEqual({ canConform: false, at: q('250', 'bar'), band: q('4.62', 'bar') });
    expect(outlookOf(within('240', '260', 'bar'), guardBand, gauge)).toMatchObject({ canConform: true });
    expect(outlookOf(range, simple, gauge)).toMatchObject({ canConform: true, fitness: { fit: false } });
  });
});

describe('what is told of a reading', () => {
  it('is the reading itself where nothing corrects it, and says what is not known', () => {
    expect(assess(asked({ reading: q('250.00', 'bar'), highest: undefined }), {})).toEqual({
      ...{ rule: 'guard-band', verdict: 'undecided', zone: null, canConform: false },
      ...{ estimate: q('250.00', 'bar'), standardUncertainty: null, guardBand: null, probability: null, basis: null },
      fitness: { ratio: null, fit: null, partOfRange: null },
    });
  });

  it('has as many decimals of an estimate as of its uncertainty', () => {
    const points = [
      { indicated: q('60', 'N.m'), deviation: q('-4', '%'), uncertainty: q('1', '%'), coverageFactor: '2' },
    ];
    const torque = {
      reading: q('61.0', 'N.m'),
      range: within('58', '64', 'N.m'),
      rule: simple,
      highest: q('100', 'N.m'),
    };
    // 61/0.96 = 63.541667; u = 0.305; Φ(1.502732) = 0.933546, Φ(−18) is nothing (recomputed).
    expect(assess(torque, { points })).toMatchObject({
      ...{ estimate: q('63.542', 'N.m'), standardUncertainty: q('0.305', 'N.m'), basis: 'calibration' },
      ...{ verdict: 'conforms', probability: 0.933546, fitness: { ratio: 4.918, fit: true, partOfRange: 0.61 } },
    });
    const sure = points.map((point) => ({ ...point, uncertainty: q('0', '%') }));
    expect(assess(torque, { points: sure })).toMatchObject({
      ...{ estimate: q('63.5417', 'N.m'), standardUncertainty: q('0.00', 'N.m'), probability: 1 },
      fitness: { ratio: null, fit: true },
    });
  });

  it('counts what an extension makes of it', () => {
    const extension = { arm: q('400', 'mm'), extension: q('50', 'mm') };
    const range = within('58', '64', 'N.m');
    const through = assess({ reading: q('61.0', 'N.m'), range, rule: simple, extension }, {});
    expect(through).toMatchObject({ verdict: 'outside', estimate: q('68.6250', 'N.m') });
    expect(assess({ reading: q('54.222', 'N.m'), range, rule: simple, extension }, {}).verdict).toBe('conforms');
  });

  it('is outside everything in a unit of something else', () => {
    for (const range of [within('246', '254', 'bar'), within(null, '254', 'bar')]) {
      expect(assess(asked({ reading: q('250', 'mA'), range }), gauge)).toMatchObject({
        ...{ verdict: 'outside', zone: null, estimate: q('250', 'mA'), probability: null, guardBand: null },
      });
    }
    expect(assess(asked({ reading: q('250', 'mA'), range: within(null, null, 'bar') }), {}).verdict).toBe('conforms');
  });

  it('has no ratio to one limit, and no part of a range that is a temperature, nothing, or of something else', () => {
    const one = assess(asked({ range: within('246', null, 'bar') }), gauge);
    expect(one.fitness).toEqual({ ratio: null, fit: null, partOfRange: 0.625 });
    const part = (reading: ReturnType<typeof q>, highest: ReturnType<typeof q>) =>
      assess(asked({ reading, range: within(null, null, 'bar'), highest }), {}).fitness.partOfRange;
    expect(part(q('50', 'degC'), q('100', 'degC'))).toBeNull();
    expect(part(q('-0.5', 'bar'), q('0', 'bar'))).toBeNull();
    expect(part(q('250', 'bar'), q('100', 'N.m'))).toBeNull();
    expect(part(q('14.5037738', 'psi'), q('4', 'bar'))).toBe(0.25);
  });

  it('calls an instrument fit from four times as fine as the tolerance (common practice)', () => {
    const fine = (permissible: string) => assess(asked(), { permissible: q(permissible, 'bar') }).fitness;
    // T = 8 bar, u = a/√3: T/(4u) = 2√3/a is 4 at a = 0.866025…
    expect(fine('0.866')).toEqual({ ratio: 4, fit: true, partOfRange: 0.625 });
    expect(fine('0.8661')).toEqual({ ratio: 4, fit: false, partOfRange: 0.625 });
  });
});

describe('an outlook', () => {
  it('is for the only limit, and there is none without a limit', () => {
    expect(outlookOf(within('246', null, 'bar'), guardBand, gauge)?.at).toEqual(q('246', 'bar'));
    expect(outlookOf(within(null, '254', 'bar'), guardBand, gauge)?.at).toEqual(q('254', 'bar'));
    expect(outlookOf(within(null, null, 'bar'), guardBand, gauge)).toBeNull();
  });

  it('is for the middle of limits in two units, in the unit of the lower', () => {
    expect(outlookOf({ min: q('24.5', 'MPa'), max: q('255', 'bar') }, guardBand, gauge)?.at).toEqual(q('25', 'MPa'));
    const temperatures = { min: q('50', 'degC'), max: q('140', 'degF') };
    expect(outlookOf(temperatures, guardBand, {})).toMatchObject({ at: q('55', 'degC'), canConform: false });
  });

  it('knows exactly from where on a tool that is off by a part of what it reads can accept something', () => {
    // u = 4 %/√3 of the reading, so w = 2u = 4.6188 %, which of 61 N·m is 2.81747 N·m (recomputed).
    const wrench: Instrument = { torqueTool: { type: 'II', class: 'A', max: q('100', 'N.m') } };
    expect(outlookOf(within('58.1825', '63.8175', 'N.m'), guardBand, wrench)?.canConform).toBe(true);
    expect(outlookOf(within('58.1826', '63.8174', 'N.m'), guardBand, wrench)?.canConform).toBe(false);
  });
});
