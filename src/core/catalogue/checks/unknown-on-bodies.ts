/** Ids that bodies, sizes and elements refer to and that the edition doesn't have. */
import type { Edition, Size } from '../edition.ts';
import { bodyOf, elementOf, onPump, sealsFitting } from '../lookup.ts';
import { type Problem, problem } from '../problem.ts';
import { ownersOf, settingsAt, sizesOf, stationsAt } from './places.ts';

export function unknownBodyOfSize(edition: Edition): Problem[] {
  return sizesOf(edition).flatMap(({ size, path }) =>
    size.bodies.flatMap((id, at) =>
      bodyOf(edition, id) === null ? [problem([...path, 'bodies', at], `there is no body ${id}`)] : [],
    ),
  );
}

/** A body's way may lead through stations of its pumps, a pump's through stations of the bodies on it. */
export function unknownAccess(edition: Edition): Problem[] {
  const known = new Map<object, (place: string) => boolean>([
    ...edition.bodies.map(
      (body) => [body.stations, (place: string) => stationsAt(edition, body, place).length > 0] as const,
    ),
    ...sizesOf(edition).map(
      ({ size }) => [size.stations, (place: string) => isPlaceOfSize(edition, size, place)] as const,
    ),
  ]);
  return ownersOf(edition).flatMap(({ path, name, stations }) =>
    stations.flatMap((station, at) =>
      (station.access ?? []).flatMap((way, nth) =>
        way.flatMap((place, step) =>
          known.get(stations)?.(place)
            ? []
            : [problem([...path, 'stations', at, 'access', nth, step], `there is no station ${place} on ${name}`)],
        ),
      ),
    ),
  );
}

export function unknownAccepted(edition: Edition): Problem[] {
  return ownersOf(edition).flatMap(({ path, stations }) =>
    stations.flatMap((station, at) =>
      station.accepts.flatMap((id, nth) =>
        elementOf(edition, id) === null
          ? [problem([...path, 'stations', at, 'accepts', nth], `there is no element ${id}`)]
          : [],
      ),
    ),
  );
}

export function unknownStationOfJoint(edition: Edition): Problem[] {
  return ownersOf(edition).flatMap(({ path, name, stations, joints }) =>
    joints.flatMap(({ station }, at) =>
      station === undefined || stations.some((one) => one.id === station)
        ? []
        : [problem([...path, 'joints', at, 'station'], `there is no station ${station} on ${name}`)],
    ),
  );
}

export function unknownSeal(edition: Edition): Problem[] {
  return ownersOf(edition).flatMap(({ path, joints }) =>
    joints.flatMap((joint, at) =>
      joint.seals.flatMap(({ seal }, nth) =>
        sealsFitting(edition, seal).length === 0
          ? [problem([...path, 'joints', at, 'seals', nth, 'seal'], `no element fits the seal size ${seal}`)]
          : [],
      ),
    ),
  );
}

export function unknownStationOfSetting(edition: Edition): Problem[] {
  return ownersOf(edition).flatMap(({ path, name, stations, settings }) =>
    settings.flatMap(({ station }, at) =>
      stations.some((one) => one.id === station)
        ? []
        : [problem([...path, 'settings', at, 'station'], `there is no station ${station} on ${name}`)],
    ),
  );
}

export function unknownSettingOfRange(edition: Edition): Problem[] {
  return edition.elements.flatMap((element, at) =>
    Object.keys(element.ranges ?? {}).flatMap((place) =>
      edition.bodies.some((body) => settingsAt(edition, body, place).length > 0)
        ? []
        : [problem(['elements', at, 'ranges', place], `no body or size has a setting ${place}`)],
    ),
  );
}

function isPlaceOfSize(edition: Edition, size: Size, place: string): boolean {
  if (size.stations.some((station) => station.id === place || onPump + station.id === place)) return true;
  return size.bodies.some((id) => bodyOf(edition, id)?.stations.some((station) => station.id === place));
}
