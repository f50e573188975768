/**
 * What an edition must keep of every edition that its maker published before: units in the field and records about
 * them name bodies, stations, joints, elements, functions and settings by these ids for as long as they exist. An id
 * is never dropped and never given another meaning. What is no longer used is retired; a station never is, for it is
 * in the casting.
 */
import { compare } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { ownersOf, sizesOf } from './checks/places.ts';
import type { Edition, Station } from './edition.ts';
import { distinct, type Path, type Problem, problem } from './problem.ts';

/** Both are checked editions of one maker. The pointers are into `next`. */
export function checkSuccession(next: Edition, earlier: readonly Edition[]): Problem[] {
  return distinct(earlier.flatMap((before) => rules.flatMap((rule) => rule(next, before))));
}

type Rule = (next: Edition, before: Edition) => Problem[];

const rules: readonly Rule[] = [
  sameEdition,
  earlierEffect,
  droppedElement,
  changedElement,
  droppedSize,
  changedDisplacement,
  droppedBody,
  changedRotation,
  droppedPlace,
  addedStation,
  changedStation,
  changedJoint,
  changedSetting,
  droppedFunction,
  droppedKit,
  changedCheck,
  droppedWord,
];

function sameEdition(next: Edition, before: Edition): Problem[] {
  if (next.edition !== before.edition) return [];
  return [
    problem(['edition'], `edition ${next.edition} is published: an edition never changes, so give the next another id`),
  ];
}

/** Two editions may take effect on one day; the later published then stands. */
function earlierEffect(next: Edition, before: Edition): Problem[] {
  if (next.effectiveFrom >= before.effectiveFrom) return [];
  const detail = `edition ${before.edition} takes effect on ${before.effectiveFrom}: this one can't before it`;
  return [problem(['effectiveFrom'], detail)];
}

function droppedElement(next: Edition, before: Edition): Problem[] {
  return dropped(next.elements.map(idOf), before.elements.map(idOf), ['elements'], 'element', before);
}

function changedElement(next: Edition, before: Edition): Problem[] {
  return kept(next.elements, before.elements, ['elements']).flatMap(({ now, was, path }) => [
    ...(['kind', 'fits', 'compound'] as const).flatMap((field) =>
      same(now[field], was[field], [...path, field], before),
    ),
    ...sameQuantity(now.bore, was.bore, [...path, 'bore'], before),
  ]);
}

function droppedSize(next: Edition, before: Edition): Problem[] {
  const now = sizesOf(next).map(({ size, series }) => `${size.id} of ${series}`);
  const was = sizesOf(before).map(({ size, series }) => `${size.id} of ${series}`);
  return dropped(now, was, ['series'], 'size', before);
}

function changedDisplacement(next: Edition, before: Edition): Problem[] {
  return sizesOf(next).flatMap(({ size, series, path }) => {
    const was = sizesOf(before).find((one) => one.series === series && one.size.id === size.id);
    if (was === undefined) return [];
    return sameQuantity(size.displacement, was.size.displacement, [...path, 'displacement'], before);
  });
}

function droppedBody(next: Edition, before: Edition): Problem[] {
  return dropped(next.bodies.map(idOf), before.bodies.map(idOf), ['bodies'], 'body', before);
}

function changedRotation(next: Edition, before: Edition): Problem[] {
  return kept(next.bodies, before.bodies, ['bodies']).flatMap(({ now, was, path }) =>
    same(now.rotationDependent, was.rotationDependent, [...path, 'rotationDependent'], before),
  );
}

function droppedPlace(next: Edition, before: Edition): Problem[] {
  return keptOwners(next, before).flatMap(({ now, was, path }) => [
    ...dropped(now.stations.map(idOf), was.stations.map(idOf), [...path, 'stations'], 'station', before),
    ...dropped(now.joints.map(idOf), was.joints.map(idOf), [...path, 'joints'], 'joint', before),
    ...dropped(now.settings.map(idOf), was.settings.map(idOf), [...path, 'settings'], 'setting', before),
  ]);
}

function addedStation(next: Edition, before: Edition): Problem[] {
  return keptOwners(next, before).flatMap(({ now, was, path }) => {
    const known = new Set(was.stations.map(idOf));
    return now.stations.flatMap((station, at) =>
      known.has(station.id)
        ? []
        : [
            problem(
              [...path, 'stations', at],
              `${now.name} has no ${station.id} in edition ${before.edition}: ${newCasting}`,
            ),
          ],
    );
  });
}

function changedStation(next: Edition, before: Edition): Problem[] {
  return keptOwners(next, before).flatMap((owner) =>
    kept(owner.now.stations, owner.was.stations, [...owner.path, 'stations']).flatMap(({ now, was, path }) => [
      ...same(now.kind, was.kind, [...path, 'kind'], before),
      ...(JSON.stringify(now.access ?? []) === JSON.stringify(was.access ?? [])
        ? []
        : [
            problem([...path, 'access'], `${now.id} was reached otherwise in edition ${before.edition}: ${newCasting}`),
          ]),
      ...holdsLess(now, was, path, before),
    ]),
  );
}

function changedJoint(next: Edition, before: Edition): Problem[] {
  return keptOwners(next, before).flatMap((owner) =>
    kept(owner.now.joints, owner.was.joints, [...owner.path, 'joints']).flatMap(({ now, was, path }) =>
      same(now.station, was.station, [...path, 'station'], before),
    ),
  );
}

function changedSetting(next: Edition, before: Edition): Problem[] {
  return keptOwners(next, before).flatMap((owner) =>
    kept(owner.now.settings, owner.was.settings, [...owner.path, 'settings']).flatMap(({ now, was, path }) => [
      ...same(now.station, was.station, [...path, 'station'], before),
      ...same(now.quantity, was.quantity, [...path, 'quantity'], before),
      ...same(now.adjusted, was.adjusted, [...path, 'adjusted'], before),
      ...(JSON.stringify(now.at) === JSON.stringify(was.at)
        ? []
        : [
            problem(
              [...path, 'at'],
              `${now.id} was read under other conditions in edition ${before.edition}: give it another id`,
            ),
          ]),
    ]),
  );
}

/** A function that moved to another body is gone from the first. */
function droppedFunction(next: Edition, before: Edition): Problem[] {
  const now = next.functions.map((fun) => `${fun.id} of ${fun.body}`);
  const was = before.functions.map((fun) => `${fun.id} of ${fun.body}`);
  return dropped(now, was, ['functions'], 'function', before);
}

function droppedKit(next: Edition, before: Edition): Problem[] {
  const parts = (edition: Edition) => edition.kits.map((kit) => kit.part);
  return dropped(parts(next), parts(before), ['kits'], 'kit', before);
}

/** What is no longer checked may go; what is still checked under an id is the same. */
function changedCheck(next: Edition, before: Edition): Problem[] {
  return kept(next.checks, before.checks, ['checks']).flatMap(({ now, was, path }) => [
    ...same(now.role, was.role, [...path, 'role'], before),
    ...same(now.kind, was.kind, [...path, 'kind'], before),
  ]);
}

/** Claims keep the words that they were made with. */
function droppedWord(next: Edition, before: Edition): Problem[] {
  return (['symptoms', 'failureModes'] as const).flatMap((list) =>
    dropped((next[list] ?? []).map(idOf), (before[list] ?? []).map(idOf), [list], 'word', before),
  );
}

const newCasting = 'a new casting is a new id';

/** What may sit at a station may only grow: the field is full of controls in which it does. */
function holdsLess(now: Station, was: Station, path: Path, before: Edition): Problem[] {
  const missing = was.accepts.filter((element) => !now.accepts.includes(element));
  return [
    ...missing.map((element) =>
      problem([...path, 'accepts'], `${now.id} accepted ${element} in edition ${before.edition}: keep it`),
    ),
    ...(now.most < was.most
      ? [problem([...path, 'most'], `${now.id} held up to ${was.most} pieces in edition ${before.edition}: keep it`)]
      : []),
  ];
}

function dropped(now: readonly string[], was: readonly string[], path: Path, what: string, before: Edition): Problem[] {
  const there = new Set(now);
  const instead = what === 'station' ? newCasting : 'keep it, marked as retired when it is no longer used';
  return was
    .filter((id) => !there.has(id))
    .map((id) => problem(path, `${what} ${id} is in edition ${before.edition}: ${instead}`));
}

function same(now: unknown, was: unknown, path: Path, before: Edition): Problem[] {
  if (now === was) return [];
  return [problem(path, `this was ${said(was)} in edition ${before.edition}: what means something else is a new id`)];
}

/** 0.6 mm may be written 0.60 mm, or 600 um. */
function sameQuantity(now: Quantity | undefined, was: Quantity | undefined, path: Path, before: Edition): Problem[] {
  const alike = now && was && dimensionOf(now.unit) === dimensionOf(was.unit) && compare(now, was) === 0;
  return alike ? [] : same(now && `${now.value} ${now.unit}`, was && `${was.value} ${was.unit}`, path, before);
}

function said(value: unknown): string {
  return value === undefined ? 'not stated' : String(value);
}

type Kept<T> = { readonly now: T; readonly was: T; readonly path: Path };

/** What is in both lists by id, with its path in the new one. */
function kept<T extends { readonly id: string }>(now: readonly T[], was: readonly T[], path: Path): readonly Kept<T>[] {
  const before = new Map(was.map((one) => [one.id, one]));
  return now.flatMap((one, at) => {
    const found = before.get(one.id);
    return found === undefined ? [] : [{ now: one, was: found, path: [...path, at] }];
  });
}

function keptOwners(next: Edition, before: Edition) {
  const was = new Map(ownersOf(before).map((owner) => [owner.name, owner]));
  return ownersOf(next).flatMap((now) => {
    const found = was.get(now.name);
    return found === undefined ? [] : [{ now, was: found, path: now.path }];
  });
}

function idOf(one: { readonly id: string }): string {
  return one.id;
}
