/** What an edition may say, but hardly means. */
import type { Demand, Edition, Fun, Pattern } from '../edition.ts';
import { elementOf, sizesWith } from '../lookup.ts';
import { type Problem, problem } from '../problem.ts';
import { patternsOf } from './patterns.ts';

export function bodyWithoutSize(edition: Edition): Problem[] {
  return edition.bodies.flatMap((body, at) =>
    body.retired === true || sizesWith(edition, body.id).length > 0
      ? []
      : [problem(['bodies', at], `no size has the body ${body.id}: it can't be mounted`)],
  );
}

/** Two functions that one fit satisfies at once can't be told apart at the bench. */
export function samePattern(edition: Edition): Problem[] {
  const placed = patternsOf(edition);
  return placed.flatMap((later, at) => {
    const same = placed
      .slice(0, at)
      .find((one) => one.fun.body === later.fun.body && one.fun !== later.fun && isSame(one.pattern, later.pattern));
    if (same === undefined) return [];
    return [problem(later.path, `${later.fun.id} has the same pattern as ${same.fun.id} on ${later.body.id}`)];
  });
}

/** On a shelf the rotation of a body that doesn't depend on it isn't asked for, and the pattern would never match. */
export function needlessRotation(edition: Edition): Problem[] {
  return patternsOf(edition).flatMap(({ body, pattern, path }) =>
    pattern.when.rotation === undefined || body.rotationDependent
      ? []
      : [problem([...path, 'when', 'rotation'], `${body.id} does not depend on rotation: its pattern need not ask`)],
  );
}

export function unusedElement(edition: Edition): Problem[] {
  const used = new Set([
    ...edition.functions.flatMap(elementsDemanded),
    ...edition.kits.flatMap((kit) => kit.contents.map((one) => one.element)),
  ]);
  const sealed = sealsOfJoints(edition, () => true);
  return edition.elements.flatMap((element, at) =>
    element.retired === true || used.has(element.id) || sealed.has(element.fits ?? '')
      ? []
      : [problem(['elements', at], `no function, joint or kit uses ${element.id}`)],
  );
}

/** A kit is needed when a function of one of its bodies demands, or a joint there is sealed by, something in it. */
export function needlessKit(edition: Edition): Problem[] {
  return edition.kits.flatMap((kit, at) => {
    const demanded = new Set(
      edition.functions.filter((fun) => kit.bodies.includes(fun.body)).flatMap(elementsDemanded),
    );
    const sealed = sealsOfJoints(edition, (body) => kit.bodies.includes(body));
    const isNeeded = kit.contents.some(
      ({ element }) => demanded.has(element) || sealed.has(elementOf(edition, element)?.fits ?? ''),
    );
    if (kit.retired === true || isNeeded) return [];
    return [problem(['kits', at], `nothing on ${kit.bodies.join(', ')} needs what is in ${kit.part}`)];
  });
}

function elementsDemanded(fun: Fun): string[] {
  return fun.patterns.flatMap((pattern) => Object.values(pattern.stations).flatMap(elementsOf));
}

function elementsOf(demand: Demand): string[] {
  if (demand === 'none' || demand === 'keep') return [];
  return demand.map((one) => (typeof one === 'string' ? one : one.element));
}

/** Seal sizes of the joints of some bodies and of the pumps that they sit on. */
function sealsOfJoints(edition: Edition, isMeant: (body: string) => boolean): ReadonlySet<string> {
  const bodies = edition.bodies.filter((body) => isMeant(body.id));
  const owners: readonly { readonly joints: readonly { readonly seals: readonly { readonly seal: string }[] }[] }[] = [
    ...bodies,
    ...bodies.flatMap((body) => sizesWith(edition, body.id)),
  ];
  return new Set(owners.flatMap((owner) => owner.joints.flatMap((joint) => joint.seals.map((one) => one.seal))));
}

/** The same stations decided alike, under conditions that can hold together. */
function isSame(one: Pattern, other: Pattern): boolean {
  const fields = ['rotation', 'size', 'voltage'] as const;
  const together = fields.every(
    (field) =>
      one.when[field] === undefined || other.when[field] === undefined || one.when[field] === other.when[field],
  );
  return together && decided(one) === decided(other);
}

function decided(pattern: Pattern): string {
  const stations = Object.entries(pattern.stations).map(([place, demand]) => {
    if (demand === 'none' || demand === 'keep') return `${place}=${demand}`;
    const pieces = demand.map((one) => {
      if (typeof one === 'string') return one;
      return 'upTo' in one ? `up to ${one.upTo} ${one.element}` : `${one.quantity} ${one.element}`;
    });
    return `${place}=${pieces.sort()}`;
  });
  return stations.sort().join(' ');
}
