/** What each station shall hold: the function's pattern, the order's choices, and what is in already. */
import type { Demand, Pattern } from '../catalogue/edition.ts';
import { type Content, type Fit, type Held, isSure, sameHeld, without } from './fit.ts';
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
  for (const { id } of layout.stations) {
    const content = contentAt(layout, fit, id);
    const target = targetOf(pattern.stations[id] ?? 'keep', content, choices[id]);
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
  if (content.elements === null) return false;
  const { elements } = content;
  return contentsAllowed(demand).some((allowed) => sameHeld(allowed, elements));
}

/** Every content that a demand other than `keep` allows, the preferred one first. */
export function contentsAllowed(demand: Exclude<Demand, 'keep'>): readonly (readonly Held[])[] {
  if (demand === 'none') return [[]];
  const singles: Held[][] = [];
  const several: Held[] = [];
  for (const one of demand) {
    if (typeof one === 'string') singles.push([{ element: one, quantity: 1 }]);
    else several.push(one);
  }
  return several.length > 0 ? [several] : singles;
}

function targetOf(demand: Demand, content: Content, choice: string | undefined): readonly Held[] | null {
  if (demand === 'keep') return null;
  if (choice !== undefined) return [{ element: choice, quantity: 1 }];
  const { elements } = content;
  const allowed = contentsAllowed(demand);
  const kept = allowed.filter((one) => elements !== null && sameHeld(one, elements));
  return [...kept, ...allowed].slice(0, 1).flat();
}
