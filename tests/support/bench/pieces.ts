/** Bags of pieces: how many of each. */
import type { Demand } from '../../../src/core/catalogue/edition.ts';

export type Piece = { readonly element: string; readonly quantity: number };
export type Bag = Map<string, number>;

export function bagOf(pieces: readonly Piece[]): Bag {
  const bag: Bag = new Map();
  for (const { element, quantity } of pieces) put(bag, element, quantity);
  return bag;
}

export function put(bag: Bag, name: string, quantity: number): void {
  const now = (bag.get(name) ?? 0) + quantity;
  if (now === 0) bag.delete(name);
  else bag.set(name, now);
}

export function total(bag: Bag): number {
  return [...bag.values()].reduce((sum, quantity) => sum + quantity, 0);
}

/** A bag in an order that doesn't depend on how it was filled, to compare and to show. */
export function shown(bag: Bag | readonly Piece[]): string {
  const pieces = bag instanceof Map ? bag : bagOf(bag);
  return [...pieces]
    .map(([name, quantity]) => `${quantity} ${name}`)
    .sort()
    .join(', ');
}

/** Whether a station's content is what a pattern asks for. */
export function meets(content: readonly Piece[], demand: Demand): boolean {
  if (demand === 'keep') return true;
  if (demand === 'none') return content.length === 0;
  const alternatives = demand.filter((entry) => typeof entry === 'string');
  if (alternatives.length > 0) return alternatives.some((element) => shown(content) === `1 ${element}`);
  return shown(content) === shown(demand.filter((entry) => typeof entry !== 'string'));
}

/** What must sit there in the end. What is in stays where it will do, else the choice made or the first one listed. */
export function wanted(
  content: readonly Piece[] | null,
  demand: Demand,
  choice: string | undefined,
): readonly Piece[] | null {
  if (demand === 'keep') return content;
  if (demand === 'none') return [];
  const [first] = demand;
  if (typeof first !== 'string') return demand.filter((entry) => typeof entry !== 'string');
  if (choice !== undefined) return [{ element: choice, quantity: 1 }];
  if (content !== null && meets(content, demand)) return content;
  return [{ element: first, quantity: 1 }];
}
