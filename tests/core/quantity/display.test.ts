import { describe, expect, it } from 'vitest';
import { display } from '../../../src/core/quantity/display.ts';

const q = (value: string, unit: string) => ({ value, unit });

// Recomputed from the definitions: 61 N·m = 44.991 lbf·ft, 250 bar = 3625.943 psi, 1500 psi = 103.4214 bar,
// 100 L/min = 26.41721 gal/min, 0.36 in³ = 5.899343 cm³, 17.5 hp = 13.04975 kW.
describe('the display value', () => {
  it.each([
    ['61.0', 'N.m', 'imperial', '44.99', 'lbf.ft'],
    ['250', 'bar', 'imperial', '3626', 'psi'],
    ['25', 'MPa', 'imperial', '3626', 'psi'],
    ['100', 'L/min', 'imperial', '26.42', 'gal/min'],
    ['50', 'degC', 'imperial', '122', 'degF'],
    ['49.5', 'degC', 'imperial', '121.1', 'degF'],
    ['1500', 'psi', 'metric', '103.4', 'bar'],
    ['1500.00', 'psi', 'metric', '103.421', 'bar'],
    ['0.36', 'in3', 'metric', '5.899', 'cm3'],
    ['17.5', 'hp', 'metric', '13.05', 'kW'],
    ['12', 'lbf.in', 'metric', '1.356', 'N.m'],
  ] as const)('of %s %s in the %s system is %s %s', (value, unit, system, shown, shownUnit) => {
    expect(display(q(value, unit), system)).toEqual(q(shown, shownUnit));
  });

  // International inch and pound (1959), US gallon of 231 in³: 25.4 mm, 0.453 592 37 kg, 3.785 411 784 L.
  it.each([
    ['25.4', 'mm', '1.000', 'in'],
    ['10.0', 'L', '2.642', 'gal'],
    ['20.0', 'kg', '44.09', 'lb'],
  ] as const)('shows %s %s as %s %s to readers of imperial units, who send it otherwise', (value, unit, shown, as) => {
    expect(display(q(value, unit), 'imperial')).toEqual(q(shown, as));
  });

  it.each([
    ['61.0', 'N.m', 'metric'],
    ['20', 'MPa', 'metric'],
    ['45', 'lbf.ft', 'imperial'],
    ['0.60', 'um', 'imperial'],
    ['46', 'mm2/s', 'imperial'],
    ['1500', 'r/min', 'imperial'],
    ['350', 'mA', 'imperial'],
  ] as const)('of %s %s in the %s system is the reading itself', (value, unit, system) => {
    expect(display(q(value, unit), system)).toEqual(q(value, unit));
  });
});
