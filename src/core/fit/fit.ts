/** What sits in one control (and, under `pump/…`, on its pump), station by station, and how that is known. */

export const bases = ['built', 'plate', 'seen', 'assumed', 'unknown'] as const;
export type Basis = (typeof bases)[number];

export type Held = { readonly element: string; readonly quantity: number };

/** `elements: null` says that the content is not known; an empty list says that the station is empty. */
export type Content = { readonly elements: readonly Held[] | null; readonly basis: Basis };

/** By station id, `pump/…` for stations of the pump. A station that is not listed is not known. */
export type Fit = Readonly<Record<string, Content>>;

export const notKnown: Content = { elements: null, basis: 'unknown' };

/** Whether somebody has vouched for the content: an assumption or nothing at all asks for a look. */
export function isSure(content: Content): boolean {
  return content.elements !== null && content.basis !== 'assumed' && content.basis !== 'unknown';
}

/** `a` without what is in `b`, piece by piece. */
export function without(a: readonly Held[], b: readonly Held[]): Held[] {
  return a
    .map(({ element, quantity }) => ({ element, quantity: quantity - quantityOf(b, element) }))
    .filter(({ quantity }) => quantity > 0);
}

/** One entry an element, in the order of first mention. */
export function together(...lists: readonly (readonly Held[])[]): Held[] {
  const sums = new Map<string, number>();
  for (const { element, quantity } of lists.flat()) sums.set(element, (sums.get(element) ?? 0) + quantity);
  return [...sums].map(([element, quantity]) => ({ element, quantity }));
}

export function sameHeld(a: readonly Held[], b: readonly Held[]): boolean {
  return without(a, b).length === 0 && without(b, a).length === 0;
}

export function quantityOf(held: readonly Held[], element: string): number {
  return held.reduce((sum, one) => (one.element === element ? sum + one.quantity : sum), 0);
}

export function piecesOf(held: readonly { readonly quantity: number }[]): number {
  return held.reduce((sum, one) => sum + one.quantity, 0);
}
