/** What a maker aims at, for a picture alone: limits are what counts, and the judgement has those. */
import type { Edition } from '../core/catalogue/edition.ts';
import { onPump } from '../core/catalogue/lookup.ts';
import { canonical } from '../core/log/canonical.ts';
import type { Quantity } from '../core/quantity/quantity.ts';

/** Null: nothing is aimed at, or bodies that have a joint or function of this name differ in it. */
export function targetOf(edition: Edition, of: string, place: string, fun: string | null): Quantity | null {
  const named = of === 'torque' ? torqueTargets(edition, place) : settingTargets(edition, place, fun);
  const [first, ...others] = named;
  return first !== undefined && others.every((one) => canonical(one) === canonical(first)) ? first : null;
}

function torqueTargets({ bodies, series }: Edition, place: string): (Quantity | null)[] {
  const sizes = series.flatMap((one) => one.sizes);
  return [
    ...bodies.flatMap(({ joints }) => joints.filter(({ id }) => id === place)),
    ...sizes.flatMap(({ joints }) => joints.filter(({ id }) => `${onPump}${id}` === place)),
  ].map(({ torque }) => ('target' in torque ? torque.target : null));
}

function settingTargets({ functions }: Edition, place: string, fun: string | null): (Quantity | null)[] {
  return functions
    .filter(({ id }) => id === fun)
    .flatMap(({ settings }) => settings.filter(({ setting }) => setting === place))
    .map(({ target }) => target ?? null);
}
