/**
 * The best cover of what a job needs by kits, by trying every useful bag of kits: fewest loose pieces, then fewest kits
 * of unknown cost, then least cost, then fewest kits, then first by part number. A kit that brings nothing which the others don't is never in the
 * best cover (without it no more is loose, nothing dearer, and it is a kit fewer); so every kit of the best cover
 * leaves fewer pieces loose in whatever order they are taken, and bags in which one doesn't need no trying.
 */
import { type Bag, put } from './pieces.ts';

/** `cost` is null where it is not known. */
export type Crate = { part: string; cost: number | null; brings: Bag; atMost: number };
export type Cover = { parts: string[]; loose: number; unknown: number; cost: number };

export function bestCover(needs: ReadonlyMap<string, number>, crates: readonly Crate[]): Cover {
  let best: Cover = { parts: [], loose: uncovered(needs, new Map()), unknown: 0, cost: 0 };
  const visit = (from: number, taken: Cover, brought: Bag): void => {
    if (byGoodness(taken, best) < 0) best = taken;
    for (const [index, { part, cost, brings, atMost }] of crates.entries()) {
      if (index < from || taken.parts.filter((other) => other === part).length === atMost) continue;
      const both = sum(brought, brings);
      const loose = uncovered(needs, both);
      if (loose === taken.loose) continue;
      const known = cost === null ? { unknown: taken.unknown + 1 } : { cost: taken.cost + cost };
      visit(index, { ...taken, ...known, parts: [...taken.parts, part].sort(), loose }, both);
    }
  };
  visit(0, best, new Map());
  return best;
}

export function byGoodness(one: Cover, other: Cover): number {
  return (
    one.loose - other.loose ||
    one.unknown - other.unknown ||
    one.cost - other.cost ||
    one.parts.length - other.parts.length ||
    compareLists(one.parts, other.parts)
  );
}

export function uncovered(needs: ReadonlyMap<string, number>, brought: ReadonlyMap<string, number>): number {
  return [...needs].reduce((loose, [name, quantity]) => loose + Math.max(0, quantity - (brought.get(name) ?? 0)), 0);
}

export function bagOfNeeds(
  needs: readonly ({ element: string; quantity: number } | { seal: string; quantity: number })[],
): Bag {
  const bag: Bag = new Map();
  for (const need of needs) put(bag, 'seal' in need ? `seal ${need.seal}` : need.element, need.quantity);
  return bag;
}

function sum(one: Bag, other: Bag): Bag {
  const both = new Map(one);
  for (const [name, quantity] of other) put(both, name, quantity);
  return both;
}

function compareLists(one: readonly string[], other: readonly string[]): number {
  for (const [index, part] of one.entries()) {
    const against = other[index];
    if (against === undefined) return 1;
    if (part !== against) return part < against ? -1 : 1;
  }
  return one.length - other.length;
}
