/** Readings anywhere in an answer, each with what it is in the units of the reader beside it. */
import { display, displayDifference, type UnitSystem } from './display.ts';
import type { Quantity } from './quantity.ts';
import { isUnit } from './unit.ts';

/** Members that are differences by their name: of temperatures they are shown otherwise than the temperatures. */
const differences: ReadonlySet<string> = new Set([
  ...['tolerance', 'resolution', 'permissible', 'deviation', 'dispersion'],
  ...['uncertainty', 'standardUncertainty', 'guardBand'],
]);

const plainDecimal = /^-?\d+(\.\d+)?$/;

/**
 * JSON in which every `{value, unit}` has a `display` of the same shape; the reading stays as it is. A `tolerance`
 * and its like are differences: ± 5 degC is ± 9 degF. What is no reading, such as a text in its place, is passed on.
 */
export function withDisplays<T>(json: T, system: UnitSystem): T {
  return shown(json, '', system) as T;
}

export function isReading(value: unknown): value is Quantity {
  if (typeof value !== 'object' || value === null) return false;
  const { value: number, unit } = value as Partial<Record<'value' | 'unit', unknown>>;
  return typeof number === 'string' && plainDecimal.test(number) && typeof unit === 'string' && isUnit(unit);
}

function shown(json: unknown, name: string, system: UnitSystem): unknown {
  if (Array.isArray(json)) return json.map((one) => shown(one, name, system));
  if (typeof json !== 'object' || json === null) return json;
  if (isReading(json)) {
    const { value, unit } = json;
    const show = differences.has(name) ? displayDifference : display;
    return { ...json, display: show({ value, unit }, system) };
  }
  return Object.fromEntries(Object.entries(json).map(([member, value]) => [member, shown(value, member, system)]));
}
