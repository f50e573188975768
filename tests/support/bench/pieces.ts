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
  const left = bagOf(content);
  return (
    demand.every((entry) => {
      if (typeof entry === 'string') return false;
      const there = left.get(entry.element) ?? 0;
      left.delete(entry.element);
      return 'upTo' in entry ? there <= entry.upTo : there === entry.quantity;
    }) && left.size === 0
  );
}

/**
 * What must sit there in the end. What is in stays where it will do, else the choice made or the first one listed. Of
 * what may be there up to a number as much stays as is in, the first listed first, as long as no more than `most` are
 * there.
 */
export function wanted(
  content: readonly Piece[] | null,
  demand: Demand,
  choice: string | undefined,
  most: number,
): readonly Piece[] | null {
  if (demand === 'keep') return content;
  if (demand === 'none') return [];
  const [first] = demand;
  if (typeof first !== 'string') {
    const there = bagOf(content ?? []);
    const pieces: Piece[] = [];
    for (const entry of demand) if (typeof entry !== 'string' && 'quantity' in entry) pieces.push(entry);
    for (const entry of demand) {
      if (typeof entry === 'string' || 'quantity' in entry) continue;
      for (let nth = 0; nth < entry.upTo && total(there) > 0; nth++) {
        if (!there.has(entry.element) || total(bagOf(pieces)) >= most) break;
        put(there, entry.element, -1);
        pieces.push({ element: entry.element, quantity: 1 });
      }
    }
    return [...bagOf(pieces)].map(([element, quantity]) => ({ element, quantity }));
  }
  if (choice !== undefined) return [{ element: choice, quantity: 1 }];
  if (content !== null && meets(content, demand)) return content;
  return [{ element: first, quantity: 1 }];
}
