/** A reading shown in the units of the other half of the world. It stands beside the reading, never in its place. */
import { add, inUnit } from './exact.ts';
import { type Quantity, significantDigits } from './quantity.ts';
import { dimensionOf } from './unit.ts';

export const unitSystems = ['metric', 'imperial'] as const;
export type UnitSystem = (typeof unitSystems)[number];

/**
 * Units that the other system doesn't use, and what it uses. All others are shown as they are in both: speeds, angles,
 * times, what is electrical, and viscosities and filters, which are in mm2/s and um in the imperial trade too.
 */
const counterparts: Readonly<Record<UnitSystem, Readonly<Record<string, string>>>> = {
  metric: {
    'lbf.ft': 'N.m',
    'lbf.in': 'N.m',
    psi: 'bar',
    'gal/min': 'L/min',
    in3: 'cm3',
    hp: 'kW',
    degF: 'degC',
  },
  imperial: {
    'N.m': 'lbf.ft',
    bar: 'psi',
    MPa: 'psi',
    kPa: 'psi',
    'L/min': 'gal/min',
    cm3: 'in3',
    L: 'gal',
    mm: 'in',
    kW: 'hp',
    degC: 'degF',
    kg: 'lb',
  },
};

/** Fewer would move a pressure limit visibly: 250 bar is 3626 psi, not 3630. */
const leastSignificant = 4;

/**
 * The reading in the asked system, rounded half away from zero to as many significant digits as were read and at
 * least four; a temperature to as many decimals as were read. A unit that the system uses, or that has no
 * counterpart (r/min, mA), keeps the reading as it is.
 */
export function display(q: Quantity, system: UnitSystem): Quantity {
  const unit = counterparts[system][q.unit];
  if (unit === undefined) return q;
  if (dimensionOf(unit) === 'temperature') return inUnit(q, unit, { decimals: q.value.split('.')[1]?.length ?? 0 });
  return inUnit(q, unit, { significant: Math.max(leastSignificant, significantDigits(q.value)) });
}

/** The same of a difference, such as a tolerance: a temperature's scales begin at other points, a difference's don't. */
export function displayDifference(q: Quantity, system: UnitSystem): Quantity {
  const unit = counterparts[system][q.unit];
  if (unit === undefined || dimensionOf(unit) !== 'temperature') return display(q, system);
  return inUnit(add({ value: '0', unit }, q), unit, { decimals: q.value.split('.')[1]?.length ?? 0 });
}
