/**
 * The closed list of units, each with its dimension and its exact size. Sizes are built from definitions, never
 * from rounded factors: the international yard and pound agreement of 1959 (ft = 0.3048 m, lb = 0.453 592 37 kg),
 * the standard acceleration of free fall 9.806 65 m/s² (3rd CGPM, 1901) and the US gallon of 231 in³, all as in
 * NIST SP 811 (2008) app. B. They are fractions because psi → Pa has no end as a decimal.
 */
import Fraction from 'fraction.js';

export type Dimension =
  | 'torque'
  | 'pressure'
  | 'flow'
  | 'volume'
  | 'length'
  | 'rotational speed'
  | 'power'
  | 'angle'
  | 'temperature'
  | 'current'
  | 'voltage'
  | 'resistance'
  | 'ratio'
  | 'frequency'
  | 'time'
  | 'viscosity'
  | 'mass';

/**
 * `factor` × (number in this unit + `offset`) = number in the dimension's base unit: N·m, Pa, m³/s, m³, m, r/s, W,
 * degree of arc, K, A, V, Ω, 1, Hz, s, m²/s, kg. Only degC and degF have an offset.
 */
export type UnitDefinition = { readonly dimension: Dimension; readonly factor: Fraction; readonly offset: Fraction };

const inch = new Fraction('0.0254');
const foot = new Fraction('0.3048');
const pound = new Fraction('0.45359237');
const poundForce = pound.mul('9.80665');
const cubicInch = inch.pow(3);
const litre = new Fraction('0.001');

const definitions = {
  'N.m': unit('torque', 1),
  'lbf.ft': unit('torque', poundForce.mul(foot)),
  'lbf.in': unit('torque', poundForce.mul(inch)),
  bar: unit('pressure', 100_000),
  psi: unit('pressure', poundForce.div(inch.pow(2))),
  MPa: unit('pressure', 1_000_000),
  kPa: unit('pressure', 1000),
  'L/min': unit('flow', litre.div(60)),
  'gal/min': unit('flow', cubicInch.mul(231).div(60)),
  cm3: unit('volume', '0.000001'),
  in3: unit('volume', cubicInch),
  L: unit('volume', litre),
  mm: unit('length', '0.001'),
  um: unit('length', '0.000001'),
  'r/min': unit('rotational speed', '1/60'),
  kW: unit('power', 1000),
  hp: unit('power', poundForce.mul(foot).mul(550)),
  deg: unit('angle', 1),
  turn: unit('angle', 360),
  degC: unit('temperature', 1, '273.15'),
  degF: unit('temperature', '5/9', '459.67'),
  mA: unit('current', '0.001'),
  A: unit('current', 1),
  V: unit('voltage', 1),
  ohm: unit('resistance', 1),
  '%': unit('ratio', '1/100'),
  Hz: unit('frequency', 1),
  s: unit('time', 1),
  h: unit('time', 3600),
  'mm2/s': unit('viscosity', '0.000001'),
  kg: unit('mass', 1),
} as const satisfies Record<string, UnitDefinition>;

/** In these values are only shown, to readers of imperial units: US gallons, international inches and pounds. */
const shownDefinitions = {
  in: unit('length', inch),
  gal: unit('volume', cubicInch.mul(231)),
  lb: unit('mass', pound),
} as const satisfies Record<string, UnitDefinition>;

export type Unit = keyof typeof definitions;

/** In which values are read and sent. */
export const units = Object.keys(definitions) as [Unit, ...Unit[]];

/** In which values may be shown: the same and those that are shown only. */
export const shownUnits = [...units, ...Object.keys(shownDefinitions)] as [string, ...string[]];

/** Throws a RangeError for a unit outside the list: input is checked by `quantitySchema` first, so that is a bug. */
export function definitionOf(name: string): UnitDefinition {
  const definition = isUnit(name) ? definitions[name] : shownDefinition(name);
  if (definition === undefined)
    throw new RangeError(`${JSON.stringify(name)} is not one of the units ${shownUnits.join(', ')}`);
  return definition;
}

export function dimensionOf(name: string): Dimension {
  return definitionOf(name).dimension;
}

function shownDefinition(name: string): UnitDefinition | undefined {
  const all: Readonly<Record<string, UnitDefinition>> = shownDefinitions;
  return Object.hasOwn(all, name) ? all[name] : undefined;
}

/** Whether values are read in it. */
export function isUnit(name: string): name is Unit {
  return Object.hasOwn(definitions, name);
}

/**
 * What an unknown unit was probably meant to be: the same letters in another case or with other punctuation, or a
 * usual other spelling. Empty when there is none.
 */
export function likelyUnits(name: string): Unit[] {
  const key = spelling(name);
  const known = otherSpellings.get(key);
  return units.filter((candidate) => spelling(candidate) === key || known?.includes(candidate));
}

const otherSpellings: ReadonlyMap<string, readonly Unit[]> = new Map<string, readonly Unit[]>([
  ['ftlb', ['lbf.ft']],
  ['ftlbf', ['lbf.ft']],
  ['ftlbs', ['lbf.ft']],
  ['lbft', ['lbf.ft']],
  ['inlb', ['lbf.in']],
  ['inlbf', ['lbf.in']],
  ['inlbs', ['lbf.in']],
  ['lbin', ['lbf.in']],
  ['lbfin2', ['psi']],
  ['pa', ['kPa', 'MPa']],
  ['nmm2', ['MPa']],
  ['lpm', ['L/min']],
  ['gpm', ['gal/min']],
  ['usgpm', ['gal/min']],
  ['cc', ['cm3']],
  ['ccm', ['cm3']],
  ['ml', ['cm3']],
  ['cuin', ['in3']],
  ['rpm', ['r/min']],
  ['min1', ['r/min']],
  ['1min', ['r/min']],
  ['revmin', ['r/min']],
  ['w', ['kW']],
  ['°', ['deg']],
  ['c', ['degC']],
  ['°c', ['degC']],
  ['f', ['degF']],
  ['°f', ['degF']],
  ['ω', ['ohm']],
  ['percent', ['%']],
  ['cst', ['mm2/s']],
  ['µm', ['um']],
  ['μm', ['um']],
  ['sec', ['s']],
  ['hour', ['h']],
  ['hours', ['h']],
]);

function spelling(name: string): string {
  return name
    .replaceAll('²', '2')
    .replaceAll('³', '3')
    .toLowerCase()
    .replaceAll(/[\s.·⋅*/^_-]/g, '');
}

function unit(dimension: Dimension, factor: Fraction | number | string, offset: string = '0'): UnitDefinition {
  return { dimension, factor: new Fraction(factor), offset: new Fraction(offset) };
}
