/** What the patterns of functions demand of stations. */
import type { Body, Edition, Fun, Pattern } from '../edition.ts';
import { bodyOf, elementOf } from '../lookup.ts';
import { type Path, type Problem, problem } from '../problem.ts';
import { stationsAt } from './places.ts';

/** Every station of the body that may hold something is decided by every pattern; those of a pump need not be. */
export function undecidedStation(edition: Edition): Problem[] {
  return patternsOf(edition).flatMap(({ body, pattern, path }) =>
    body.stations
      .filter((station) => station.accepts.length > 0 && !Object.hasOwn(pattern.stations, station.id))
      .map((station) =>
        problem([...path, 'stations'], `${station.id} is undecided: name its elements, "none" or "keep"`),
      ),
  );
}

export function elementNotAccepted(edition: Edition): Problem[] {
  return patternsOf(edition).flatMap(({ body, pattern, path }) =>
    Object.entries(pattern.stations).flatMap(([place, demand]) => {
      if (demand === 'none' || demand === 'keep') return [];
      const stations = stationsAt(edition, body, place, pattern.when.size);
      return demand.flatMap((one, nth) => {
        const element = typeof one === 'string' ? one : one.element;
        if (elementOf(edition, element) === null) return [];
        if (stations.every((station) => station.accepts.includes(element))) return [];
        const at = [...path, 'stations', place, nth, ...(typeof one === 'string' ? [] : ['element'])];
        return [problem(at, `${place} does not accept ${element}`)];
      });
    }),
  );
}

/** What may be there up to a number has room for that number, if perhaps not for the most of everything at once. */
export function tooManyPieces(edition: Edition): Problem[] {
  return patternsOf(edition).flatMap(({ body, pattern, path }) =>
    Object.entries(pattern.stations).flatMap(([place, demand]) => {
      if (demand === 'none' || demand === 'keep') return [];
      const together = demand.filter((one) => typeof one !== 'string');
      const fixed = together.reduce((sum, one) => sum + ('quantity' in one ? one.quantity : 0), 0);
      const pieces = fixed + Math.max(0, ...together.map((one) => ('upTo' in one ? one.upTo : 0)));
      const room = Math.min(...stationsAt(edition, body, place, pattern.when.size).map((station) => station.most));
      if (pieces <= room) return [];
      return [problem([...path, 'stations', place], `${pieces} pieces at ${place}, which holds at most ${room}`)];
    }),
  );
}

type Placed = { readonly fun: Fun; readonly body: Body; readonly pattern: Pattern; readonly path: Path };

/** The patterns of functions whose body is known, with their paths. */
export function patternsOf(edition: Edition): readonly Placed[] {
  return edition.functions.flatMap((fun, at) => {
    const body = bodyOf(edition, fun.body);
    if (body === null) return [];
    return fun.patterns.map((pattern, nth) => ({ fun, body, pattern, path: ['functions', at, 'patterns', nth] }));
  });
}
