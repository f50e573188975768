/** Joints and where they are. */
import type { Edition, Joint } from '../edition.ts';
import { type Path, type Problem, problem } from '../problem.ts';
import { ownersOf } from './places.ts';

export function jointOfNoStation(edition: Edition): Problem[] {
  return jointsIn(edition, (joint, path) =>
    joint.station === undefined && joint.mounting !== true
      ? [problem(path, `${joint.id} names no station: give it one, or say "mounting": true`)]
      : [],
  );
}

export function mountingJointOfStation(edition: Edition): Problem[] {
  return jointsIn(edition, (joint, path) =>
    joint.station !== undefined && joint.mounting === true
      ? [problem([...path, 'station'], `${joint.id} joins control and pump: a mounting joint has no station`)]
      : [],
  );
}

/** A joint that is closed after setting could never be closed at a station where nothing is set. */
export function lockWithoutSetting(edition: Edition): Problem[] {
  return ownersOf(edition).flatMap((owner) => {
    const turned = owner.settings.filter((setting) => setting.adjusted !== false);
    const set = new Set(turned.map((setting) => setting.station));
    return owner.joints.flatMap((joint, at) =>
      joint.closed === undefined || (joint.station !== undefined && set.has(joint.station))
        ? []
        : [
            problem(
              [...owner.path, 'joints', at, 'closed'],
              `${joint.id} is closed after setting, but nothing is set there`,
            ),
          ],
    );
  });
}

/** A locknut is got at from outside and loosened whenever its station is opened: nothing stays in place by it. */
export function lockThatHolds(edition: Edition): Problem[] {
  return jointsIn(edition, (joint, path) =>
    joint.closed === undefined || joint.opens
      ? []
      : [
          problem(
            [...path, 'opens'],
            `${joint.id} is closed after setting and can't hold an element: leave out "opens"`,
          ),
        ],
  );
}

/** What brings a joint sits at its station. */
export function jointOfNoElement(edition: Edition): Problem[] {
  return ownersOf(edition).flatMap((owner) =>
    owner.joints.flatMap((joint, at) => {
      const accepts = owner.stations.find((station) => station.id === joint.station)?.accepts ?? [];
      return (joint.with ?? []).flatMap((element, nth) =>
        accepts.includes(element)
          ? []
          : [
              problem(
                [...owner.path, 'joints', at, 'with', nth],
                `${joint.id} can't come with ${element}: ${joint.station ?? 'a mounting joint'} does not accept it`,
              ),
            ],
      );
    }),
  );
}

function jointsIn(edition: Edition, check: (joint: Joint, path: Path) => Problem[]): Problem[] {
  return ownersOf(edition).flatMap((owner) =>
    owner.joints.flatMap((joint, at) => check(joint, [...owner.path, 'joints', at])),
  );
}
