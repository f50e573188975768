/** Whether a value is measured in a unit of its kind. That the unit is known at all is part of the shape. */
import type { Quantity } from '../../quantity/quantity.ts';
import { type Dimension, dimensionOf, units } from '../../quantity/unit.ts';
import type { Edition, Fun, Requirement, Setting } from '../edition.ts';
import { bodyOf } from '../lookup.ts';
import { type Path, type Problem, problem } from '../problem.ts';
import { conditionsOf, ownersOf, settingsAt, sizesOf } from './places.ts';

const dimensions: ReadonlySet<string> = new Set(units.map(dimensionOf));

export function unknownQuantityOfSetting(edition: Edition): Problem[] {
  return ownersOf(edition).flatMap(({ path, settings }) =>
    settings.flatMap(({ quantity }, at) =>
      dimensions.has(quantity)
        ? []
        : [problem([...path, 'settings', at, 'quantity'], `${quantity} is not one of ${[...dimensions].join(', ')}`)],
    ),
  );
}

export function wrongUnitOfElement(edition: Edition): Problem[] {
  return edition.elements.flatMap((element, at) => [
    ...wrong(element.bore, ['length'], ['elements', at, 'bore']),
    ...wrong(element.boreTolerance, ['length', 'ratio'], ['elements', at, 'boreTolerance']),
    ...Object.entries(element.ranges ?? {}).flatMap(([place, range]) => {
      const measured = edition.bodies.flatMap((body) => dimensionsOf(settingsAt(edition, body, place)));
      return [
        ...wrong(range.min, measured, ['elements', at, 'ranges', place, 'min']),
        ...wrong(range.max, measured, ['elements', at, 'ranges', place, 'max']),
      ];
    }),
  ]);
}

export function wrongUnitOfSize(edition: Edition): Problem[] {
  return sizesOf(edition).flatMap(({ size, path }) => [
    ...wrong(size.displacement, ['volume'], [...path, 'displacement']),
    ...wrong(size.ratedPressure, ['pressure'], [...path, 'ratedPressure']),
    ...wrong(size.highestSetting, ['pressure'], [...path, 'highestSetting']),
    ...wrong(size.peakPressure, ['pressure'], [...path, 'peakPressure']),
    ...wrong(size.maxSpeed, ['rotational speed'], [...path, 'maxSpeed']),
    ...wrong(size.shaftTorqueLimit, ['torque'], [...path, 'shaftTorqueLimit']),
  ]);
}

export function wrongUnitOfTorque(edition: Edition): Problem[] {
  return ownersOf(edition).flatMap(({ path, joints }) =>
    joints.flatMap((joint, at) => {
      const torque: Partial<Record<TorqueField, Quantity | undefined>> = joint.torque;
      return torqueFields.flatMap(([field, allowed]) =>
        wrong(torque[field], allowed, [...path, 'joints', at, 'torque', field]),
      );
    }),
  );
}

/** What is read at a current is read at a current throughout; a tolerance may be a ratio. */
export function wrongUnitOfCondition(edition: Edition): Problem[] {
  return conditionsOf(edition).flatMap(({ limits, path }) => {
    if ('min' in limits) return wrong(limits.max, [dimensionOf(limits.min.unit)], [...path, 'max']);
    return wrong(limits.tolerance, withRatio([dimensionOf(limits.target.unit)]), [...path, 'tolerance']);
  });
}

export function wrongUnitOfFunctionSetting(edition: Edition): Problem[] {
  return edition.functions.flatMap((fun, at) =>
    fun.settings.flatMap((bounds, nth) => {
      const path = ['functions', at, 'settings', nth];
      const measured = dimensionsOf(settingsNamed(edition, fun, bounds.setting));
      const tolerated = withRatio(measured);
      return [
        ...wrong(bounds.min, measured, [...path, 'min']),
        ...wrong(bounds.max, measured, [...path, 'max']),
        ...wrong(bounds.target, measured, [...path, 'target']),
        ...wrong(bounds.tolerance, tolerated, [...path, 'tolerance']),
      ];
    }),
  );
}

/** A part of what is measured may be tolerated, but of a temperature: its zero is a matter of the scale. */
function withRatio(measured: readonly string[]): readonly string[] {
  const parted = measured.some((dimension) => dimension !== 'temperature');
  return parted ? [...measured, 'ratio'] : measured;
}

type TorqueField = Requirement extends infer R ? (R extends R ? keyof R : never) : never;
const torqueFields: readonly (readonly [TorqueField, readonly Dimension[]])[] = [
  ['target', ['torque']],
  ['tolerance', ['torque', 'ratio']],
  ['min', ['torque']],
  ['max', ['torque']],
  ['angle', ['angle']],
];

/** With nothing known of what is measured (an unknown setting, reported elsewhere) no unit is wrong. */
function wrong(quantity: Quantity | undefined, allowed: readonly string[], path: Path): Problem[] {
  if (quantity === undefined || allowed.length === 0 || allowed.includes(dimensionOf(quantity.unit))) return [];
  const fitting = units.filter((unit) => allowed.includes(dimensionOf(unit)));
  return [
    problem([...path, 'unit'], `${quantity.unit} is no unit of ${allowed.join(' or ')}: use ${fitting.join(', ')}`),
  ];
}

export function dimensionsOf(settings: readonly Setting[]): string[] {
  return settings.map((setting) => setting.quantity).filter((quantity) => dimensions.has(quantity));
}

export function settingsNamed(edition: Edition, fun: Fun, place: string): readonly Setting[] {
  const body = bodyOf(edition, fun.body);
  return body === null ? [] : settingsAt(edition, body, place);
}
