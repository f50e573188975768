/** Ranges that no value could satisfy, and values that mean nothing. */
import { compare } from '../../quantity/exact.ts';
import type { Quantity } from '../../quantity/quantity.ts';
import { dimensionOf } from '../../quantity/unit.ts';
import type { Edition } from '../edition.ts';
import { type Path, type Problem, problem } from '../problem.ts';
import { conditionsOf, ownersOf, sizesOf } from './places.ts';

/** The value a customer orders may lie anywhere between min and max; a target alone says nothing of how near. */
export function settingWithoutBound(edition: Edition): Problem[] {
  return edition.functions.flatMap((fun, at) =>
    fun.settings.flatMap((one, nth) => {
      const bounded = one.min !== undefined || one.max !== undefined;
      if (bounded || (one.target !== undefined && one.tolerance !== undefined)) return [];
      const detail = `${one.setting} has no bound: give min and max, or target and tolerance`;
      return [problem(['functions', at, 'settings', nth], detail)];
    }),
  );
}

export function minAboveMax(edition: Edition): Problem[] {
  return [
    ...ownersOf(edition).flatMap(({ path, joints }) =>
      joints.flatMap(({ torque }, at) =>
        'min' in torque ? disordered(torque.min, torque.max, [...path, 'joints', at, 'torque', 'min'], 'max') : [],
      ),
    ),
    ...conditionsOf(edition).flatMap(({ limits, path }) =>
      'min' in limits ? disordered(limits.min, limits.max, [...path, 'min'], 'max') : [],
    ),
    ...edition.functions.flatMap((fun, at) =>
      fun.settings.flatMap(({ min, max }, nth) =>
        disordered(min, max, ['functions', at, 'settings', nth, 'min'], 'max'),
      ),
    ),
    ...edition.elements.flatMap((element, at) =>
      Object.entries(element.ranges ?? {}).flatMap(([place, { min, max }]) =>
        disordered(min, max, ['elements', at, 'ranges', place, 'min'], 'max'),
      ),
    ),
    ...sizesOf(edition).flatMap(({ size, path }) => [
      ...disordered(size.ratedPressure, size.peakPressure, [...path, 'ratedPressure'], 'peakPressure'),
      ...disordered(size.highestSetting, size.peakPressure, [...path, 'highestSetting'], 'peakPressure'),
    ]),
  ];
}

export function toleranceOfNothing(edition: Edition): Problem[] {
  return edition.elements.flatMap(({ id, bore, boreTolerance }, at) =>
    boreTolerance === undefined || bore !== undefined
      ? []
      : [problem(['elements', at, 'boreTolerance'], `${id} has no bore that this could be the tolerance of`)],
  );
}

export function negativeTolerance(edition: Edition): Problem[] {
  return [
    ...edition.elements.flatMap(({ boreTolerance }, at) => negative(boreTolerance, ['elements', at, 'boreTolerance'])),
    ...ownersOf(edition).flatMap(({ path, joints }) =>
      joints.flatMap(({ torque }, at) =>
        'tolerance' in torque ? negative(torque.tolerance, [...path, 'joints', at, 'torque', 'tolerance']) : [],
      ),
    ),
    ...conditionsOf(edition).flatMap(({ limits, path }) =>
      'tolerance' in limits ? negative(limits.tolerance, [...path, 'tolerance']) : [],
    ),
    ...edition.functions.flatMap((fun, at) =>
      fun.settings.flatMap(({ tolerance }, nth) =>
        negative(tolerance, ['functions', at, 'settings', nth, 'tolerance']),
      ),
    ),
  ];
}

/** A joint is closed to more than no torque, a bore lets something through, a pump displaces something. */
export function notMoreThanNothing(edition: Edition): Problem[] {
  return [
    ...edition.elements.flatMap(({ bore }, at) => nothing(bore, ['elements', at, 'bore'])),
    ...sizesOf(edition).flatMap(({ size, path }) =>
      sizeFields.flatMap((field) => nothing(size[field], [...path, field])),
    ),
    ...ownersOf(edition).flatMap(({ path, joints }) =>
      joints.flatMap(({ torque }, at) =>
        'target' in torque
          ? nothing(torque.target, [...path, 'joints', at, 'torque', 'target'])
          : nothing(torque.max, [...path, 'joints', at, 'torque', 'max']),
      ),
    ),
  ];
}

export function impossibleEfficiency(edition: Edition): Problem[] {
  return sizesOf(edition).flatMap(({ size, path }) =>
    Object.entries(size.efficiency ?? {}).flatMap(([name, value]) =>
      /^(0\.\d{1,6}|1(\.0{1,6})?)$/.test(value) && Number(value) > 0
        ? []
        : [problem([...path, 'efficiency', name], 'an efficiency is a decimal above 0 and up to 1, such as "0.92"')],
    ),
  );
}

const sizeFields = [
  'displacement',
  'ratedPressure',
  'highestSetting',
  'peakPressure',
  'maxSpeed',
  'shaftTorqueLimit',
] as const;

/** Values of different dimensions are reported by their units, not compared. */
function disordered(low: Quantity | undefined, high: Quantity | undefined, path: Path, above: string): Problem[] {
  if (low === undefined || high === undefined || dimensionOf(low.unit) !== dimensionOf(high.unit)) return [];
  return compare(low, high) <= 0 ? [] : [problem(path, `${said(low)} is more than ${above}, ${said(high)}`)];
}

function negative(quantity: Quantity | undefined, path: Path): Problem[] {
  if (quantity === undefined || compare(quantity, { value: '0', unit: quantity.unit }) >= 0) return [];
  return [problem(path, `a tolerance of ${said(quantity)} allows nothing: leave out the sign`)];
}

function nothing(quantity: Quantity | undefined, path: Path): Problem[] {
  if (quantity === undefined || compare(quantity, { value: '0', unit: quantity.unit }) > 0) return [];
  return [problem(path, `${said(quantity)} is not more than nothing`)];
}

function said({ value, unit }: Quantity): string {
  return `${value} ${unit}`;
}
