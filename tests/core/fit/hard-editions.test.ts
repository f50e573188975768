/** What hard editions mean physically, and in which order their settings are made. */
import { describe, expect, it } from 'vitest';
import { elementOf } from '../../../src/core/catalogue/lookup.ts';
import type { Fit } from '../../../src/core/fit/fit.ts';
import type { Step } from '../../../src/core/fit/plan.ts';
import { planOf } from '../../support/bench/expected.ts';
import { saidConversion } from '../../support/bench/in-english.ts';
import { editionNamed } from '../../support/editions/editions.ts';

/** Q = C_d·A·√(2Δp/ρ), in L/min from mm, bar and kg/m³. */
function orificeFlow(bore: number, pressure: number, coefficient: number): number {
  const area = (Math.PI / 4) * (bore / 1000) ** 2;
  return coefficient * area * Math.sqrt((2 * pressure * 1e5) / 870) * 60_000;
}

describe('an orifice of a catalogue', () => {
  // The formula: d 1 mm, 10 bar, C_d 0.62, ρ 870 give 1.400 839 L/min (recomputed). The band is that of short tubes,
  // C_d 0.6 to 0.85, at 20 bar; a value of practice.
  it('lets through, at the pressure of the test, what its bore lets through', () => {
    expect(orificeFlow(1, 10, 0.62)).toBeCloseTo(1.400839, 6);
    const edition = editionNamed('adjustable-orifice');
    for (const id of ['orifice-0.6', 'orifice-0.8']) {
      const { bore, ranges } = elementOf(edition, id) ?? {};
      const band = [0.6, 0.85].map((coefficient) => orificeFlow(Number(bore?.value), 20, coefficient).toFixed(2));
      expect([ranges?.['throttle-flow']?.min.value, ranges?.['throttle-flow']?.max.value]).toEqual(band);
    }
    expect(edition.bodies[0]?.settings.find((one) => one.id === 'throttle-flow')?.at).toEqual({
      signal: { target: { value: '20', unit: 'bar' }, tolerance: { value: '1', unit: 'bar' } },
    });
  });
});

const fitOf = (contents: Readonly<Record<string, string | null>>): Fit =>
  Object.fromEntries(
    Object.entries(contents).map(([id, element]) => [
      id,
      { elements: element === null ? [] : [{ element, quantity: 1 }], basis: 'seen' },
    ]),
  );
const pump = { series: 'curlew', size: '83', rotation: 'clockwise', fluid: 'mineral' } as const;
const said = (steps: readonly Step[]) =>
  steps
    .filter(({ action }) => ['back-off', 'set', 'lock', 're-read', 'read'].includes(action))
    .map(({ action, joint, setting }) => `${action} ${joint ?? setting}`);

describe('settings of a hard edition', () => {
  it('of a curve: one screw is set and locked, then the curve is read point by point', () => {
    const steps = saidConversion({
      edition: editionNamed('electric'),
      ...{ body: 'curlew-slab', pump, builtFor: { voltage: '24 V' }, settings: {}, choices: {} },
      fit: fitOf({
        ...{ 'limit-screw': 'limit-adjuster', 'magnet-well': 'coil-24', 'pin-bore': 'pin-displacement' },
        ...{ 'trim-screw': 'trim-spring-stiff', 'follow-eye': 'follow-spring' },
      }),
      ...{ from: 'electric-displacement', to: 'electric-pressure' },
    });
    expect(said(steps)).toEqual([
      'back-off pressure-limit',
      'back-off start-current',
      'set pressure-limit',
      'lock limit-nut',
      're-read pressure-limit',
      'read coil-resistance',
      'set start-current',
      'lock trim-nut',
      're-read start-current',
      'read pressure-at-400',
      'read pressure-at-600',
    ]);
    expect(steps.find((step) => step.setting === 'pressure-at-400')?.text).toBe(
      'Trim-screw: read pressure-at-400 (at least 76 bar; at most 84 bar; with current 400 ± 5 mA; ' +
        'with dither 100 Hz ± 10 %; approached from below).',
    );
  });

  it('that share a locknut: both are set before it is locked, and both are read again', () => {
    const { steps, settings } = planOf({
      edition: editionNamed('unloading'),
      ...{ body: 'curlew-tower', pump, builtFor: {}, choices: {}, from: 'unload', to: 'unload-two-stage' },
      settings: { 'pressure-limit': { value: '220', unit: 'bar' }, 'unload-pressure': { value: '180', unit: 'bar' } },
      fit: fitOf({
        ...{ nose: 'nose-two-stage', 'swap-cavity': 'cartridge-unload', 'limit-screw': 'limit-adjuster' },
        ...{ 'ball-seat': 'check-ball', 'pilot-throat': 'orifice-0.8' },
      }),
    });
    // Only the reload pressure is not known; the nut that is loosened for it lets go of the other too.
    expect(settings.map(({ setting, because }) => [setting, because])).toEqual([
      ['unload-pressure', 'disturbed'],
      ['reload-pressure', 'required'],
    ]);
    expect(said(steps)).toEqual([
      'back-off unload-pressure',
      'back-off reload-pressure',
      'set unload-pressure',
      'set reload-pressure',
      'lock nose-nut',
      're-read unload-pressure',
      're-read reload-pressure',
    ]);
  });
});
