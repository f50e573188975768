/** What each station shall hold: the function's pattern, the order's choices, and what is in already. */
import type { Demand, Pattern } from '../catalogue/edition.ts';
import { type Content, type Fit, type Held, isSure, piecesOf, quantityOf, sameHeld, without } from './fit.ts';
import { contentAt, type Layout } from './layout.ts';
import type { Change } from './plan.ts';

export type Chosen = {
  readonly changes: readonly Change[];
  /** Stations whose content is right by assumption only: they are looked at, not changed. */
  readonly looks: readonly string[];
  /** What every station holds afterwards; null where that is not known. */
  readonly contents: ReadonlyMap<string, readonly Held[] | null>;
};

type Choices = Readonly<Record<string, string>>;

/** Why the choices can't be made: the pattern doesn't leave them, or the pump that they are for isn't at hand. */
export function whyNotChosen(layout: Layout, pattern: Pattern, choices: Choices): string | null {
  const [refused] = Object.entries(choices).flatMap(([station, element]) => {
    const demand = pattern.stations[station];
    const allowed = Array.isArray(demand) ? demand.filter((one) => typeof one === 'string') : [];
    if (allowed.length === 0) return [`the function leaves no choice at ${station}`];
    if (!allowed.includes(element)) {
      return [`the function doesn't allow ${element} at ${station}: choose one of ${allowed.join(', ')}`];
    }
    return layout.station.has(station) ? [] : [`${station} is on the pump: choose once the control is there`];
  });
  return refused ?? null;
}

/** Stations in the catalogue's order; the choices are ones that the pattern leaves. */
export function chooseContents(layout: Layout, pattern: Pattern, fit: Fit, choices: Choices): Chosen {
  const changes: Change[] = [];
  const looks: string[] = [];
  const contents = new Map<string, readonly Held[] | null>();
  for (const { id, most } of layout.stations) {
    const content = contentAt(layout, fit, id);
    const target = targetOf(pattern.stations[id] ?? 'keep', content, choices[id], most);
    contents.set(id, target ?? content.elements);
    if (target === null) continue;
    if (content.elements === null) changes.push({ station: id, out: null, in: target });
    else if (!sameHeld(content.elements, target)) {
      changes.push({ station: id, out: without(content.elements, target), in: without(target, content.elements) });
    } else if (!isSure(content)) looks.push(id);
  }
  return { changes, looks, contents };
}

/** Whether a content satisfies a demand. What is not known satisfies only `keep`. */
export function satisfies(content: Content, demand: Demand): boolean {
  if (demand === 'keep') return true;
  const { elements } = content;
  return elements !== null && sameHeld(allowedLike(demand, elements), elements);
}

/**
 * Of the contents that a demand other than `keep` allows the one most like what is held: of several choices the one
 * that is there, else the first; of what may be there up to a number as many as are, as far as there is room.
 */
export function allowedLike(
  demand: Exclude<Demand, 'keep'>,
  held: readonly Held[],
  most: number = Number.POSITIVE_INFINITY,
): readonly Held[] {
  if (demand === 'none') return [];
  const [first] = demand;
  if (typeof first === 'string') {
    const singles = demand.filter((one) => typeof one === 'string').map((element) => ({ element, quantity: 1 }));
    return [...singles.filter((one) => sameHeld([one], held)), ...singles].slice(0, 1);
  }
  const together = demand.filter((one) => typeof one !== 'string');
  const fixed = together.filter((one) => 'quantity' in one);
  let room = most - piecesOf(fixed);
  const found = together.flatMap((one) => {
    if ('quantity' in one) return [];
    const quantity = Math.min(one.upTo, quantityOf(held, one.element), room);
    room -= quantity;
    return quantity > 0 ? [{ element: one.element, quantity }] : [];
  });
  return [...fixed, ...found];
}

function targetOf(
  demand: Demand,
  { elements }: Content,
  choice: string | undefined,
  most: number,
): readonly Held[] | null {
  if (demand === 'keep') return null;
  if (choice !== undefined) return [{ element: choice, quantity: 1 }];
  return allowedLike(demand, elements ?? [], most);
}
