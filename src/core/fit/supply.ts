/** What a job takes off the shelf of a shop, and what must be bought for it. */
import { sealsFitting } from '../catalogue/lookup.ts';
import { coverNeeds, type Shelf } from './cover-needs.ts';
import { type Held, together } from './fit.ts';
import type { KitCover, Need } from './plan.ts';

/** What lies in a shop: kits by part, loose pieces by element. */
export type Stock = {
  readonly kits: Readonly<Record<string, number>>;
  readonly pieces: Readonly<Record<string, number>>;
};

export type Supply = {
  /** Loose pieces from the shelf. */
  readonly pieces: readonly Held[];
  /** Kits from the shelf, what is missing then, and what is left over. */
  readonly cover: KitCover;
  /** For what is missing. `loose` no kit brings. */
  readonly buy: Pick<KitCover, 'kits' | 'loose' | 'cost'>;
};

/**
 * What lies loose is used before a kit is opened, and kits on the shelf before others are bought. A seal is one of its
 * size that stands the fluid, the first that the edition lists.
 */
export function supplyFor(needs: readonly Need[], shelf: Omit<Shelf, 'stock'>, stock: Stock): Supply {
  const left = new Map(Object.entries(stock.pieces));
  const pieces: Held[] = [];
  const open = needs.flatMap((need): Need[] => {
    let missing = need.quantity;
    for (const element of elementsFor(need, shelf)) {
      const there = left.get(element) ?? 0;
      const quantity = Math.min(missing, there);
      if (quantity === 0) continue;
      left.set(element, there - quantity);
      pieces.push({ element, quantity });
      missing -= quantity;
    }
    return missing === 0 ? [] : [{ ...need, quantity: missing }];
  });
  const cover = coverNeeds(open, { ...shelf, stock: stock.kits });
  const { kits, loose, cost } = coverNeeds(cover.loose, { ...shelf, stock: undefined });
  return { pieces: together(pieces), cover, buy: { kits, loose, cost } };
}

function elementsFor(need: Need, { edition, fluid }: Pick<Shelf, 'edition' | 'fluid'>): string[] {
  if ('element' in need) return [need.element];
  return sealsFitting(edition, need.seal)
    .filter(({ fluids }) => fluid === null || fluids === undefined || fluids.includes(fluid))
    .map(({ id }) => id);
}
