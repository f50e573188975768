/** An id names one thing, and a list names each thing once. */
import type { Edition } from '../edition.ts';
import { type Path, type Problem, problem } from '../problem.ts';
import { ownersOf, repeats, sizesOf } from './places.ts';

export function duplicateIds(edition: Edition): Problem[] {
  return [
    ...said(['elements'], 'id', edition.elements.map(idOf)),
    ...said(['series'], 'id', edition.series.map(idOf)),
    ...edition.series.flatMap((series, at) => said(['series', at, 'sizes'], 'id', series.sizes.map(idOf))),
    ...said(['bodies'], 'id', edition.bodies.map(idOf)),
    ...ownersOf(edition).flatMap(({ path, stations, joints, settings }) => [
      ...said([...path, 'stations'], 'id', stations.map(idOf)),
      ...said([...path, 'joints'], 'id', joints.map(idOf)),
      ...said([...path, 'settings'], 'id', settings.map(idOf)),
    ]),
    ...edition.functions.flatMap((fun, at) => said(['functions', at, 'relations'], 'id', fun.relations.map(idOf))),
    ...said(
      ['kits'],
      'part',
      edition.kits.map((kit) => kit.part),
    ),
    ...said(['checks'], 'id', edition.checks.map(idOf)),
    ...said(['symptoms'], 'id', (edition.symptoms ?? []).map(idOf)),
    ...said(['failureModes'], 'id', (edition.failureModes ?? []).map(idOf)),
  ];
}

/** The same function may exist on several bodies, once on each. */
export function duplicateFunctions(edition: Edition): Problem[] {
  const names = edition.functions.map((fun) => `${fun.id} of ${fun.body}`);
  return repeats(names).map(({ at, id }) =>
    problem(['functions', at, 'id'], `function ${id} is listed before: one id on a body names one function`),
  );
}

export function listedTwice(edition: Edition): Problem[] {
  return [
    ...sizesOf(edition).flatMap(({ size, path }) => said([...path, 'bodies'], null, size.bodies)),
    ...ownersOf(edition).flatMap(({ path, stations, joints }) => [
      ...stations.flatMap((station, at) => said([...path, 'stations', at, 'accepts'], null, station.accepts)),
      ...joints.flatMap((joint, at) => [
        ...said(
          [...path, 'joints', at, 'seals'],
          'seal',
          joint.seals.map((one) => one.seal),
        ),
        ...said([...path, 'joints', at, 'with'], null, joint.with ?? []),
      ]),
    ]),
    ...edition.functions.flatMap((fun, at) => [
      ...fun.patterns.flatMap((pattern, nth) =>
        Object.entries(pattern.stations).flatMap(([place, demand]) => {
          if (demand === 'none' || demand === 'keep') return [];
          const names = demand.map((one) => (typeof one === 'string' ? one : one.element));
          return said(['functions', at, 'patterns', nth, 'stations', place], null, names);
        }),
      ),
      ...said(
        ['functions', at, 'settings'],
        'setting',
        fun.settings.map((one) => one.setting),
      ),
    ]),
    ...edition.kits.flatMap((kit, at) => [
      ...said(['kits', at, 'bodies'], null, kit.bodies),
      ...said(
        ['kits', at, 'contents'],
        'element',
        kit.contents.map((one) => one.element),
      ),
      ...said(['kits', at, 'supersedes'], null, kit.supersedes),
    ]),
  ];
}

function said(path: Path, field: string | null, names: readonly string[]): Problem[] {
  return repeats(names).map(({ at, id }) =>
    problem(field === null ? [...path, at] : [...path, at, field], `${id} is listed before: list it once`),
  );
}

function idOf(one: { readonly id: string }): string {
  return one.id;
}
