/** What is in a lot, as far as editions know the part that it is of. */
import type { Edition } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import type { Instant } from '../time/instant.ts';

/** How many pieces of each element one of a part holds. */
export type Pieces = ReadonlyMap<string, number>;

export type Contents =
  /** Its pieces are known by name; a kit taken in, or made, at this time held these. */
  | { readonly of: 'kit'; readonly part: string; readonly at: (time: Instant) => Pieces }
  | { readonly of: 'element'; readonly part: string }
  /** Bought elsewhere: whatever is used from it is a piece of this part. */
  | { readonly of: 'unnamed'; readonly part: string };

/** An edition and the first instant of its being in effect. */
export type Effective = { readonly from: Instant; readonly edition: Edition };

/**
 * Contents of kits may differ between editions: a lot holds what the edition said that was in effect when it was made,
 * else, where nobody has said when that was, when it came in. What came before any edition is told by the first.
 * @param editions of the lot's maker, in the order in which they took effect
 */
export function contentsOf(part: string, madeAt: Instant | null, editions: readonly Effective[]): Contents {
  const kits = editions.flatMap(({ from, edition }) => {
    const kit = edition.kits.find((one) => one.part === part);
    return kit === undefined ? [] : [{ from, pieces: piecesOf(kit.contents) }];
  });
  const [first] = kits;
  if (first !== undefined) {
    return { of: 'kit', part, at: (time) => (kits.findLast(({ from }) => from <= (madeAt ?? time)) ?? first).pieces };
  }
  const isElement = editions.some(({ edition }) => elementOf(edition, part) !== null);
  return { of: isElement ? 'element' : 'unnamed', part };
}

/** By what name a use of this item draws on the lot. */
export function drawnAs(contents: Contents, item: string): string {
  return contents.of === 'unnamed' ? contents.part : item;
}

function piecesOf(contents: readonly { readonly element: string; readonly quantity: number }[]): Pieces {
  return new Map(contents.map(({ element, quantity }) => [element, quantity]));
}
