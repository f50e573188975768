/**
 * Which kits to take. The best cover leaves the fewest pieces loose, then takes the fewest kits whose cost isn't known,
 * then costs least, then takes the fewest kits, then comes first by part number. So what isn't known never passes for
 * cheap. Exact: every useful combination is tried, with bounds.
 */
import type { Edition, Kit } from '../catalogue/edition.ts';
import { sealsFitting } from '../catalogue/lookup.ts';
import { type Held, together } from './fit.ts';
import type { BrokenJoint, KitCover, Need } from './plan.ts';

export type Shelf = {
  readonly edition: Edition;
  readonly body: string;
  readonly fluid: string | null;
  /** Kits on the shelf by part; without it every kit is to be had. */
  readonly stock: Readonly<Record<string, number>> | undefined;
  /** The day of the work, such as 2026-03-14: kits withdrawn by then are not offered. Without it none is left out. */
  readonly day: string | undefined;
};

export function needsOf(putIn: readonly Held[], joints: readonly BrokenJoint[]): Need[] {
  const seals = new Map<string, number>();
  for (const { seal, quantity } of joints.flatMap((joint) => joint.seals)) {
    seals.set(seal, (seals.get(seal) ?? 0) + quantity);
  }
  return [...putIn, ...[...seals].map(([seal, quantity]) => ({ seal, quantity }))];
}

export function coverNeeds(needs: readonly Need[], shelf: Shelf): KitCover {
  const open = needs.map((need) => ({ need, quantity: need.quantity }));
  const nothing: Taken = { kits: [], open, unpriced: 0, cost: 0, count: 0 };
  const best = explore(restOf(offersFor(needs, shelf)), nothing, nothing);
  return {
    kits: best.kits.map(({ offer, quantity }) => ({ part: offer.kit.part, quantity })),
    loose: best.open.map(({ need, quantity }) => ({ ...need, quantity })),
    leftOver: leftOver(best.kits),
    cost: best.unpriced > 0 ? null : best.cost / millionths,
  };
}

type Offer = {
  readonly kit: Kit;
  /** 1: its cost is not known, and nothing in `cost`. */
  readonly unpriced: 0 | 1;
  readonly cost: number;
  /** How much of which need one kit meets, and how many pieces that are together. */
  readonly brings: ReadonlyMap<Need, number>;
  readonly pieces: number;
  /** More of them than this are never of use, or aren't there. */
  readonly most: number;
  /** What is in a kit, each with the need that it may meet. */
  readonly contents: readonly { readonly held: Held; readonly need: Need | undefined }[];
};
/** The offers that are still to be decided on, and how much of which need they would meet all together. */
type Rest = { readonly offer: Offer; readonly supply: ReadonlyMap<Need, number>; readonly next: Rest } | null;
type Taken = {
  readonly kits: readonly { readonly offer: Offer; readonly quantity: number }[];
  /** Needs that are not met, with the pieces missing. */
  readonly open: readonly { readonly need: Need; readonly quantity: number }[];
  /** Kits whose cost is not known, the cost of the others, and all of them. */
  readonly unpriced: number;
  readonly cost: number;
  readonly count: number;
};

/** Costs are added in whole millionths: sums of decimals differ in their last bits. */
const millionths = 1_000_000;

function offersFor(needs: readonly Need[], { edition, body, fluid, stock, day }: Shelf): Offer[] {
  return edition.kits
    .filter((kit) => kit.bodies.includes(body) && kit.retired !== true && !isWithdrawn(kit, day))
    .map((kit): Offer => {
      const contents = kit.contents.map((held) => ({
        held,
        need: needs.find((need) => meets(edition, held, need, fluid)),
      }));
      const brings = new Map<Need, number>();
      for (const need of needs) {
        const brought = contents.reduce((sum, one) => (one.need === need ? sum + one.held.quantity : sum), 0);
        if (brought > 0) brings.set(need, Math.min(brought, need.quantity));
      }
      const useful = [...brings].map(([need, quantity]) => Math.ceil(need.quantity / quantity));
      return {
        kit,
        contents,
        brings,
        pieces: sumOf([...brings.values()]),
        unpriced: kit.cost === undefined ? 1 : 0,
        cost: Math.round((kit.cost ?? 0) * millionths),
        most: Math.min(Math.max(0, ...useful), stock === undefined ? Infinity : (stock[kit.part] ?? 0)),
      };
    })
    .filter((offer) => offer.most > 0)
    .sort((a, b) => (a.kit.part < b.kit.part ? -1 : 1));
}

function isWithdrawn({ withdrawnFrom }: Kit, day: string | undefined): boolean {
  return day !== undefined && withdrawnFrom !== null && withdrawnFrom <= day;
}

/** A seal meets the need for its size when its compound stands the pump's fluid. */
function meets(edition: Edition, { element }: Held, need: Need, fluid: string | null): boolean {
  if ('element' in need) return need.element === element;
  return sealsFitting(edition, need.seal).some(
    ({ id, fluids }) => id === element && (fluid === null || fluids === undefined || fluids.includes(fluid)),
  );
}

function restOf(offers: readonly Offer[]): Rest {
  return offers.reduceRight<Rest>((next, offer) => {
    const supply = new Map(next?.supply);
    for (const [need, quantity] of offer.brings) supply.set(need, (supply.get(need) ?? 0) + offer.most * quantity);
    return { offer, supply, next };
  }, null);
}

/** The better one of what is known and the best that begins like this. */
function explore(rest: Rest, taken: Taken, known: Taken): Taken {
  if (!isBetter(atBest(taken, rest), known)) return known;
  if (rest === null) return taken;
  const { offer, next } = rest;
  const options = [taken];
  for (let { open, quantity } = { open: taken.open, quantity: 1 }; quantity <= offer.most; quantity++) {
    if (!open.some(({ need }) => offer.brings.has(need))) break;
    open = openAfter(open, offer.brings);
    options.push({
      kits: [...taken.kits, { offer, quantity }],
      open,
      unpriced: taken.unpriced + quantity * offer.unpriced,
      cost: taken.cost + quantity * offer.cost,
      count: taken.count + quantity,
    });
  }
  // Many of the first part before few: of equals the first by part number is met first and kept.
  return options.reduceRight((best, option) => explore(next, option, best), known);
}

function isBetter(a: Taken, b: Taken): boolean {
  const loose = piecesOf(a.open) - piecesOf(b.open);
  if (loose !== 0) return loose < 0;
  if (a.unpriced !== b.unpriced) return a.unpriced < b.unpriced;
  return a.cost !== b.cost ? a.cost < b.cost : a.count < b.count;
}

/**
 * No worse than any combination that begins like this: as little loose as if every remaining kit were taken as often
 * as it can be; each of the rest by the kits that are best for it, piece by piece: priced, cheap, and few.
 */
function atBest(taken: Taken, rest: Rest): Taken {
  if (rest === null) return taken;
  const open = openAfter(taken.open, rest.supply);
  const pieces = piecesOf(taken.open) - piecesOf(open);
  let [unpriced, cost, count] = [Infinity, Infinity, Infinity];
  for (let one: Rest = rest; one !== null; one = one.next) {
    unpriced = Math.min(unpriced, Math.ceil((pieces * one.offer.unpriced) / one.offer.pieces));
    cost = Math.min(cost, Math.ceil((pieces * one.offer.cost) / one.offer.pieces));
    count = Math.min(count, Math.ceil(pieces / one.offer.pieces));
  }
  return {
    ...{ ...taken, open },
    ...{ unpriced: taken.unpriced + unpriced, cost: taken.cost + cost, count: taken.count + count },
  };
}

function openAfter(open: Taken['open'], brings: ReadonlyMap<Need, number>): Taken['open'] {
  return open
    .map(({ need, quantity }) => ({ need, quantity: quantity - (brings.get(need) ?? 0) }))
    .filter(({ quantity }) => quantity > 0);
}

function piecesOf(open: Taken['open']): number {
  return open.reduce((sum, { quantity }) => sum + quantity, 0);
}

function sumOf(numbers: readonly number[]): number {
  return numbers.reduce((sum, one) => sum + one, 0);
}

/** What the kits bring and the job doesn't take, kit by kit in the order of their parts. */
function leftOver(kits: Taken['kits']): Held[] {
  const met = new Map<Need, number>();
  const over = kits.flatMap(({ offer, quantity }) =>
    offer.contents.map(({ held: { element, quantity: each }, need }): Held => {
      const brought = each * quantity;
      if (need === undefined) return { element, quantity: brought };
      const before = met.get(need) ?? 0;
      const takes = Math.min(brought, need.quantity - before);
      met.set(need, before + takes);
      return { element, quantity: brought - takes };
    }),
  );
  return together(over.filter(({ quantity }) => quantity > 0));
}
