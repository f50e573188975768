/**
 * Texts by language. A text is keyed by what it is about: `note` for the edition itself, else kind and id, such as
 * `element/orifice-0.6`, or `text/` and an English text of the edition that it translates, word by word, such as a
 * condition. A station, setting or joint of the same id is called the same on every body.
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
        : [
            problem(
              ['texts', language, key],
              `a text is keyed "note", by kind and id, or by "text/" and a text of the edition: ${key} is nothing here`,
            ),
          ],
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
    ...(edition.symptoms ?? []).map((one) => `symptom/${one.id}`),
    ...(edition.failureModes ?? []).map((one) => `failure-mode/${one.id}`),
    ...edition.cautions.map((_, at) => `caution/${at + 1}`),
    ...ownTexts(edition).map((text) => `text/${text}`),
  ]);
}

/** Texts that stand with nothing that has an id of its own to key them by. */
function ownTexts(edition: Edition): string[] {
  const owners = ownersOf(edition);
  const joints = owners.flatMap((owner) => owner.joints);
  const settings = owners.flatMap((owner) => owner.settings);
  return [
    ...edition.elements.map((one) => one.orientation),
    ...joints.flatMap((one) => [one.tool.drive, one.sequence, one.threadLock]),
    ...settings.flatMap((one) => [one.condition, ...Object.keys(one.at ?? {}), ...one.requires]),
  ].filter((text) => text !== undefined);
}
