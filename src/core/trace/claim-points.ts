/** What the teardown found and what was seen around the unit, beside what the records say was in it. */
import type { AsFound, Observations } from '../claims/claim-body.ts';
import { sameHeld } from '../fit/fit.ts';
import { compare, isWithin } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Range } from '../quantity/range.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { isUnknown } from '../records/parts.ts';
import type { Bearing, Point } from './points.ts';
import type { StationThen } from './unit-then.ts';

export type ClaimSaid = {
  readonly record: string;
  readonly asFound?: AsFound | undefined;
  readonly observations?: Observations | undefined;
};

export type RecordedThen = {
  readonly function: string | null;
  readonly stations: readonly StationThen[];
  /** By setting: as last read, and what the function allowed there. */
  readonly settings: Readonly<Record<string, SettingThen>>;
  /** Of the pump as it is known: null where it isn't. */
  readonly fluid: string | null;
  readonly maxSpeed: Quantity | null;
};

export type SettingThen = { readonly recorded: Quantity | null; readonly range: Range };

/** In the order in which it was said: what came later stands beside what was said first. */
export function claimPoints(said: readonly ClaimSaid[], recorded: RecordedThen): Point[] {
  return said.flatMap(({ record, asFound, observations }) => [
    ...(asFound === undefined ? [] : foundPoints(asFound, recorded, record)),
    ...(observations === undefined ? [] : seenPoints(observations, recorded, record)),
  ]);
}

function foundPoints(
  { function: fun, stations = {}, settings = {}, marks }: AsFound,
  recorded: RecordedThen,
  record: string,
): Point[] {
  const point = (place: string | null, bears: Bearing, basis: string): Point => ({
    topic: 'as-found',
    place,
    bears,
    basis,
    record,
  });
  const functions =
    fun === undefined
      ? []
      : [
          point(
            null,
            fun === recorded.function ? 'clear' : 'bears on the claim',
            `Found as ${fun}, recorded as ${recorded.function ?? 'none'}.`,
          ),
        ];
  const fits = Object.entries(stations).map(([station, content]) => {
    if (isUnknown(content)) return point(station, 'unknown', `What sat there was not told: ${content.unknown}`);
    const found = content.map(({ element, quantity }) => ({ element, quantity }));
    const known = recorded.stations.find((one) => one.station === station)?.elements ?? null;
    if (known === null) return point(station, 'unknown', `Found ${named(found)}; what was there is not recorded.`);
    const isSame = sameHeld(found, known);
    return point(station, isSame ? 'clear' : 'bears on the claim', `Found ${named(found)}, recorded ${named(known)}.`);
  });
  const read = Object.entries(settings).map(([setting, reading]) =>
    settingPoint(setting, reading, recorded.settings, point),
  );
  return [
    ...functions,
    ...fits,
    ...read,
    ...marks.map((mark) => point(mark.place, 'bears on the claim', `Mark: ${mark.text}`)),
  ];
}

function settingPoint(
  setting: string,
  reading: Quantity,
  settings: RecordedThen['settings'],
  point: (place: string, bears: Bearing, basis: string) => Point,
): Point {
  const found = `Found at ${reading.value} ${reading.unit}`;
  const known = settings[setting];
  if (known === undefined) return point(setting, 'unknown', `${found}; the function had no such setting.`);
  const { recorded, range } = known;
  const { min, max } = range;
  const isComparable = [min, max].every((one) => one === null || dimensionOf(one.unit) === dimensionOf(reading.unit));
  const isIn = isComparable && isWithin(reading, min, max);
  const last = recorded === null ? 'not recorded as set' : `last recorded as ${recorded.value} ${recorded.unit}`;
  const limits = [min, max].map((one) => (one === null ? '–' : `${one.value} ${one.unit}`)).join(' to ');
  return point(setting, isIn ? 'clear' : 'bears on the claim', `${found}, ${last}; allowed is ${limits}.`);
}

function seenPoints(observations: Observations, { fluid, maxSpeed }: RecordedThen, record: string): Point[] {
  const known: Partial<Record<string, (seen: string | Quantity) => Bearing>> = {
    ...(fluid !== null && { fluid: (seen) => (seen === fluid ? 'clear' : 'unknown') }),
    ...(maxSpeed !== null && {
      speed: (seen) => (typeof seen !== 'string' && compare(seen, maxSpeed) > 0 ? 'bears on the claim' : 'clear'),
    }),
  };
  const against: Partial<Record<string, string>> = {
    ...(fluid !== null && { fluid: `the pump was registered for ${fluid}` }),
    ...(maxSpeed !== null && { speed: `its size may turn at ${maxSpeed.value} ${maxSpeed.unit}` }),
  };
  return Object.entries(observations).flatMap(([name, seen]): Point[] => {
    if (seen === undefined) return [];
    const point = { topic: 'observation' as const, place: name, record };
    if (isUnknown(seen)) return [{ ...point, bears: 'unknown', basis: `It is said to be unknown: ${seen.unknown}` }];
    const said = typeof seen === 'string' ? seen : `${seen.value} ${seen.unit}`;
    const basis = `Seen as ${said}; ${against[name] ?? 'the catalogue publishes no limit for it'}.`;
    return [{ ...point, bears: known[name]?.(seen) ?? 'unknown', basis }];
  });
}

function named(held: readonly { readonly element: string; readonly quantity: number }[]): string {
  return held.map(({ element, quantity }) => `${quantity} × ${element}`).join(', ') || 'nothing';
}
