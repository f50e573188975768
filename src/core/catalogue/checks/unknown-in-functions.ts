/** Ids that functions and kits refer to and that the edition doesn't have. */
import type { Edition } from '../edition.ts';
import { bodyOf, elementOf, sizesWith } from '../lookup.ts';
import { type Problem, problem } from '../problem.ts';
import { patternsOf } from './patterns.ts';
import { settingsAt, stationsAt } from './places.ts';

export function unknownBodyOfFunction(edition: Edition): Problem[] {
  return edition.functions.flatMap((fun, at) =>
    bodyOf(edition, fun.body) === null ? [problem(['functions', at, 'body'], `there is no body ${fun.body}`)] : [],
  );
}

export function unknownSizeOfPattern(edition: Edition): Problem[] {
  return patternsOf(edition).flatMap(({ body, pattern, path }) => {
    const { size } = pattern.when;
    if (size === undefined || sizesWith(edition, body.id).some((one) => one.id === size)) return [];
    return [problem([...path, 'when', 'size'], `no size ${size} has the body ${body.id}`)];
  });
}

export function unknownStationOfPattern(edition: Edition): Problem[] {
  return patternsOf(edition).flatMap(({ body, pattern, path }) =>
    Object.keys(pattern.stations).flatMap((place) =>
      stationsAt(edition, body, place, pattern.when.size).length === 0
        ? [problem([...path, 'stations', place], `there is no station ${place} on ${body.id} or on a pump that has it`)]
        : [],
    ),
  );
}

export function unknownElementOfPattern(edition: Edition): Problem[] {
  return patternsOf(edition).flatMap(({ pattern, path }) =>
    Object.entries(pattern.stations).flatMap(([place, demand]) => {
      if (demand === 'none' || demand === 'keep') return [];
      return demand.flatMap((one, nth) => {
        const id = typeof one === 'string' ? one : one.element;
        if (elementOf(edition, id) !== null) return [];
        const at = [...path, 'stations', place, nth, ...(typeof one === 'string' ? [] : ['element'])];
        return [problem(at, `there is no element ${id}`)];
      });
    }),
  );
}

export function unknownSettingOfFunction(edition: Edition): Problem[] {
  return edition.functions.flatMap((fun, at) => {
    const body = bodyOf(edition, fun.body);
    if (body === null) return [];
    return fun.settings.flatMap(({ setting }, nth) =>
      settingsAt(edition, body, setting).length === 0
        ? [problem(['functions', at, 'settings', nth, 'setting'], `there is no setting ${setting} on ${body.id}`)]
        : [],
    );
  });
}

export function unknownBodyOfKit(edition: Edition): Problem[] {
  return edition.kits.flatMap((kit, at) =>
    kit.bodies.flatMap((id, nth) =>
      bodyOf(edition, id) === null ? [problem(['kits', at, 'bodies', nth], `there is no body ${id}`)] : [],
    ),
  );
}

export function unknownContent(edition: Edition): Problem[] {
  return edition.kits.flatMap((kit, at) =>
    kit.contents.flatMap(({ element }, nth) =>
      elementOf(edition, element) === null
        ? [problem(['kits', at, 'contents', nth, 'element'], `there is no element ${element}`)]
        : [],
    ),
  );
}

export function unknownSuperseded(edition: Edition): Problem[] {
  const parts = new Set(edition.kits.map((kit) => kit.part));
  return edition.kits.flatMap((kit, at) =>
    kit.supersedes.flatMap((part, nth) => {
      if (part === kit.part) return [problem(['kits', at, 'supersedes', nth], `${part} can't supersede itself`)];
      return parts.has(part) ? [] : [problem(['kits', at, 'supersedes', nth], `there is no kit ${part}`)];
    }),
  );
}
