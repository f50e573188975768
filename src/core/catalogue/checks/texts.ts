/**
 * Texts by language. A text is keyed by what it is about: `note` for the edition itself, else kind and id, such as
 * `element/orifice-0.6`. A station, setting or joint of the same id is called the same on every body.
 */
import type { Edition } from '../edition.ts';
import { type Problem, problem } from '../problem.ts';
import { ownersOf } from './places.ts';

export function unknownTextKey(edition: Edition): Problem[] {
  const known = textKeys(edition);
  return Object.entries(edition.texts).flatMap(([language, texts]) =>
    Object.keys(texts).flatMap((key) =>
      known.has(key)
        ? []
        : [problem(['texts', language, key], `a text is keyed "note" or by kind and id: ${key} is nothing here`)],
    ),
  );
}

function textKeys(edition: Edition): ReadonlySet<string> {
  const owners = ownersOf(edition);
  return new Set([
    'note',
    ...edition.elements.map((one) => `element/${one.id}`),
    ...edition.series.map((one) => `series/${one.id}`),
    ...edition.bodies.map((one) => `body/${one.id}`),
    ...owners.flatMap((owner) => owner.stations.map((one) => `station/${one.id}`)),
    ...owners.flatMap((owner) => owner.joints.map((one) => `joint/${one.id}`)),
    ...owners.flatMap((owner) => owner.settings.map((one) => `setting/${one.id}`)),
    ...edition.functions.map((one) => `function/${one.id}`),
    ...edition.kits.map((one) => `kit/${one.part}`),
    ...edition.checks.map((one) => `check/${one.id}`),
    ...edition.cautions.map((_, at) => `caution/${at + 1}`),
  ]);
}
