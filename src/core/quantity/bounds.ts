/** What no bench reads: a slip of the pen, or of a program, that would stand in a record for good. */
import { compare } from './exact.ts';
import type { Quantity } from './quantity.ts';
import { type Dimension, dimensionOf } from './unit.ts';

/** Far beyond what is found in a workshop, in either direction from zero. */
const most: Readonly<Record<Dimension, Quantity>> = {
  torque: { value: '1000000', unit: 'N.m' },
  pressure: { value: '100000', unit: 'bar' },
  flow: { value: '1000000', unit: 'L/min' },
  volume: { value: '1000000', unit: 'L' },
  length: { value: '1000000', unit: 'mm' },
  'rotational speed': { value: '1000000', unit: 'r/min' },
  power: { value: '1000000', unit: 'kW' },
  angle: { value: '1000000', unit: 'turn' },
  temperature: { value: '5000', unit: 'degC' },
  current: { value: '1000000', unit: 'A' },
  voltage: { value: '1000000', unit: 'V' },
  // Insulation is measured too.
  resistance: { value: '100000000000000', unit: 'ohm' },
  ratio: { value: '1000000', unit: '%' },
  frequency: { value: '1000000000000', unit: 'Hz' },
  time: { value: '1000000', unit: 'h' },
  viscosity: { value: '1000000000', unit: 'mm2/s' },
  mass: { value: '1000000', unit: 'kg' },
};

/** Absolute zero, by definition of the Celsius scale (SI Brochure, 9th edition, 2.3.1). */
const coldest: Quantity = { value: '-273.15', unit: 'degC' };

/** Why a value cannot have been read, in a sentence; null: it can. Takes what is else a sound quantity. */
export function absurdity(q: Quantity): string | null {
  const limit = most[dimensionOf(q.unit)];
  const said = `${q.value} ${q.unit}`;
  if (limit.unit === coldest.unit && compare(q, coldest) < 0)
    return `nothing is as cold as ${said}: check the value and its unit`;
  const size = { value: q.value.replace('-', ''), unit: q.unit };
  if (compare(size, limit) <= 0) return null;
  return `no bench reads ${said}: check the value and its unit (at most ${limit.value} ${limit.unit} is taken)`;
}
