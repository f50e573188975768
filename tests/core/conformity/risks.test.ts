import { describe, expect, it } from 'vitest';
import { decide } from '../../../src/core/conformity/decide.ts';
import type { DecisionRule } from '../../../src/core/conformity/decision-rule.ts';
import { normalCdf } from '../../../src/core/conformity/normal.ts';
import { seeded } from '../../support/seeded.ts';
import { estimated, within } from './given.ts';

const band = (factor: number): DecisionRule => ({ name: 'guard-band', factor });

/** Shares of draws lie within so many of their own standard deviations of what they estimate. */
const deviations = 4;
const scatter = (share: number, draws: number) => deviations * Math.sqrt((share * (1 - share)) / draws);

describe('readings of something that lies exactly on a limit', () => {
  // What each rule claims at the edge: Φ(−2r). ILAC-G8:09/2019 has "< 2.5 %" for w = U, 2.275 % exactly.
  it.each([
    ['simple acceptance', { name: 'simple' }, 0.5],
    ['w = U/2', band(0.5), 0.158655],
    ['w = 0.82 U', band(0.82), 0.050503],
    ['w = U', band(1), 0.02275],
    ['w = 1.5 U', band(1.5), 0.00135],
  ] as const)('are falsely accepted by %s as often as it claims', (_, rule, claimed) => {
    const draws = 20_000;
    const { normal } = seeded(20_260_314);
    let accepted = 0;
    for (let draw = 0; draw < draws; draw += 1) {
      const reading = (27 + 0.25 * normal()).toFixed(9);
      if (decide(estimated(reading, '0.25', 'N.m'), within('20', '27', 'N.m'), rule).verdict === 'conforms')
        accepted += 1;
    }
    expect(Math.abs(accepted / draws - claimed)).toBeLessThan(scatter(claimed, draws));
  });

  it('are accepted less often the further it lies outside', () => {
    const shares = [27, 27.1, 27.2, 27.4].map((true_) => {
      const { normal } = seeded(7);
      const readings = Array.from({ length: 5_000 }, () => (true_ + 0.25 * normal()).toFixed(9));
      const verdicts = readings.map(
        (reading) => decide(estimated(reading, '0.25', 'N.m'), within('20', '27', 'N.m'), band(0.5)).verdict,
      );
      return verdicts.filter((verdict) => verdict === 'conforms').length;
    });
    expect(shares).toEqual([...shares].sort((a, b) => b - a));
    expect(new Set(shares).size).toBe(4);
  });
});

describe('the resistors of JCGM 106:2012, 9.5', () => {
  // 1500 ± 0.2 Ω, process sd 0.12 Ω, measurement sd 0.04 Ω, accepted from 1499.82 to 1500.18 Ω (as quoted by independent
  // publications): so w = 0.02 Ω = 0.25·U. Risks recomputed: consumer's 0.009 878, producer's 0.069 027.
  const [consumers, producers] = [0.009878, 0.069027];
  const range = within('1499.8', '1500.2', 'ohm');
  const isAccepted = (reading: number) =>
    decide(estimated(reading.toFixed(9), '0.04', 'ohm'), range, band(0.25)).verdict === 'conforms';

  it('are accepted from 1499.82 to 1500.18 ohm, both included', () => {
    expect([1499.82, 1500.18, 1499.819999, 1500.180001].map(isAccepted)).toEqual([true, true, false, false]);
  });

  it('have the risks of the standard when they are integrated', () => {
    const step = 0.0005;
    const risks = { consumer: 0, producer: 0 };
    for (let off = -1.2 + step / 2; off < 1.2; off += step) {
      const made = normalCdf((off + step / 2) / 0.12) - normalCdf((off - step / 2) / 0.12);
      const accepted = normalCdf((0.18 - off) / 0.04) - normalCdf((-0.18 - off) / 0.04);
      if (Math.abs(off) > 0.2) risks.consumer += made * accepted;
      else risks.producer += made * (1 - accepted);
    }
    expect(Math.abs(risks.consumer - consumers)).toBeLessThan(1e-5);
    expect(Math.abs(risks.producer - producers)).toBeLessThan(1e-5);
  });

  it('have the risks of the standard when the rule decides about them one by one', () => {
    const draws = 40_000;
    const { normal } = seeded(106);
    const found = { consumer: 0, producer: 0 };
    for (let draw = 0; draw < draws; draw += 1) {
      const made = 0.12 * normal();
      const accepted = isAccepted(1500 + made + 0.04 * normal());
      if (accepted && Math.abs(made) > 0.2) found.consumer += 1;
      if (!accepted && Math.abs(made) <= 0.2) found.producer += 1;
    }
    expect(Math.abs(found.consumer / draws - consumers)).toBeLessThan(scatter(consumers, draws));
    expect(Math.abs(found.producer / draws - producers)).toBeLessThan(scatter(producers, draws));
  });
});
