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

/** Stations in the catalogue's order. `refused` says which choice the pattern doesn't leave. */
export function chooseContents(
  layout: Layout,
  pattern: Pattern,
  fit: Fit,
  choices: Readonly<Record<string, string>>,
): Chosen | { refused: string } {
  for (const [station, element] of Object.entries(choices)) {
    const demand = pattern.stations[station];
    if (!leaves(demand, element)) return { refused: refusal(station, element, demand) };
    if (!layout.station.has(station)) return { refused: `${station} is on the pump: choose once the control is there` };
  }
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
  const allowed = contentsAllowed(demand);
  if (choice !== undefined) return [{ element: choice, quantity: 1 }];
  const kept = content.elements === null ? undefined : allowed.find((one) => sameHeld(one, content.elements ?? []));
  return kept ?? allowed[0] ?? [];
}

function leaves(demand: Demand | undefined, element: string): boolean {
  return Array.isArray(demand) && demand.some((one) => one === element);
}

function refusal(station: string, element: string, demand: Demand | undefined): string {
  const allowed = Array.isArray(demand) ? demand.filter((one) => typeof one === 'string') : [];
  return allowed.length === 0
    ? `the function leaves no choice at ${station}`
    : `the function doesn't allow ${element} at ${station}: choose one of ${allowed.join(', ')}`;
}
