/** A folded unit as planning takes it. */
import type { Fit } from '../fit/fit.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { UnitState } from './fold.ts';

export function fitOf({ stations }: Pick<UnitState, 'stations'>): Fit {
  return Object.fromEntries(Object.entries(stations).map(([id, { elements, basis }]) => [id, { elements, basis }]));
}

/** The settings that the pair of control and pump is known to have. */
export function knownSettings({ settings }: Pick<UnitState, 'settings'>): Record<string, Quantity> {
  return Object.fromEntries(Object.entries(settings).map(([id, { value, unit }]) => [id, { value, unit }]));
}
