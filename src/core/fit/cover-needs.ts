/**
 * Which kits to take. The best cover leaves the fewest pieces loose, then takes the fewest kits whose cost isn't known,
 * then costs least, then takes the fewest kits, then comes first by part number. So what isn't known never passes for
 * cheap. Exact: every useful combination is tried, with bounds.
 */
import type { Edition, Kit } from '../catalogue/edition.ts';
import { kitsFor, sealsFitting } from '../catalogue/lookup.ts';
import { type Held, piecesOf, together } from './fit.ts';
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
  const open = needs.map((need) => ({ need, missing: need.quantity }));
  const none: Cover = { ...nothing, pieces: piecesOf(needs), loose: needs };
  const { kits, loose, unpriced, cost } = explore(restOf(offersFor(open, shelf), open), nothing, none);
  const taken = listed(kits);
  return {
    kits: taken.map(({ offer, quantity }) => ({ part: offer.kit.part, quantity })),
    loose,
    leftOver: leftOver(taken),
    cost: unpriced > 0 ? null : cost / millionths,
  };
}

/** A need while kits are tried, and how many of its pieces no kit brings as yet; less than 0: they bring so many too many. */
type Open = { readonly need: Need; missing: number };
type Offer = {
  readonly kit: Kit;
  readonly price: Price;
  /** How much of which need one kit meets. */
  readonly brings: readonly { readonly of: Open; readonly quantity: number }[];
  /** More of them than this are never of use, or aren't there. */
  readonly most: number;
  /** What is in a kit, each with the need that it may meet. */
  readonly contents: readonly { readonly held: Held; readonly of: Open | undefined }[];
};
/** Kits whose cost isn't known, what the others cost, and kits. */
type Price = { readonly unpriced: number; readonly cost: number; readonly count: number };
/**
 * The offers that are still to be decided on. `reach`: how much of each need they meet all together, and the least that
 * a piece of it takes of a kit whose price is shared out evenly among the pieces that it brings.
 */
type Rest = {
  readonly undecided: { readonly offer: Offer; readonly next: Rest } | null;
  readonly reach: readonly { readonly of: Open; readonly supply: number; readonly share: Price }[];
};
type Taken = Price & { readonly kits: Kits };
/** The last that was decided on, and what was taken before it. */
type Kits = { readonly offer: Offer; readonly quantity: number; readonly before: Kits } | null;
/** `pieces`: how many are loose. */
type Cover = Taken & { readonly pieces: number; readonly loose: readonly Need[] };

const free: Price = { unpriced: 0, cost: 0, count: 0 };
const nothing: Taken = { ...free, kits: null };

/** Costs are added in whole millionths: sums of decimals differ in their last bits. */
const millionths = 1_000_000;

function offersFor(open: readonly Open[], { edition, body, fluid, stock, day }: Shelf): Offer[] {
  const wanted = wantedFor(open, edition, fluid);
  return kitsFor(edition, body).flatMap((kit): Offer[] => {
    const most = stock === undefined ? Infinity : (stock[kit.part] ?? 0);
    return isWithdrawn(kit, day) ? [] : offerOf(kit, wanted, most);
  });
}

type Wanted = ReadonlyMap<string, Open>;

/** By element the need that it meets: a seal meets the need for its size when its compound stands the pump's fluid. */
function wantedFor(open: readonly Open[], edition: Edition, fluid: string | null): Wanted {
  const wanted = new Map<string, Open>();
  for (const of of open) {
    if ('element' in of.need) wanted.set(of.need.element, of);
    else
      for (const { id, fluids } of sealsFitting(edition, of.need.seal)) {
        const stands = fluid === null || fluids === undefined || fluids.includes(fluid);
        if (stands && !wanted.has(id)) wanted.set(id, of);
      }
  }
  return wanted;
}

/** None where it is of no use. */
function offerOf(kit: Kit, wanted: Wanted, there: number): Offer[] {
  const contents = kit.contents.map((held) => ({ held, of: wanted.get(held.element) }));
  const pieces = new Map<Open, number>();
  for (const { held, of } of contents) if (of !== undefined) pieces.set(of, (pieces.get(of) ?? 0) + held.quantity);
  const brings = [...pieces].map(([of, quantity]) => ({ of, quantity: Math.min(quantity, of.need.quantity) }));
  const most = Math.min(
    there,
    Math.max(0, ...brings.map(({ of, quantity }) => Math.ceil(of.need.quantity / quantity))),
  );
  const price = { unpriced: kit.cost === undefined ? 1 : 0, cost: Math.round((kit.cost ?? 0) * millionths), count: 1 };
  return most > 0 ? [{ kit, contents, brings, price, most }] : [];
}

function isWithdrawn({ withdrawnFrom }: Kit, day: string | undefined): boolean {
  return day !== undefined && withdrawnFrom !== null && withdrawnFrom <= day;
}

function restOf(offers: readonly Offer[], open: readonly Open[]): Rest {
  const decided: Rest = { undecided: null, reach: open.map((of) => ({ of, supply: 0, share: free })) };
  return offers.reduceRight((next, offer): Rest => {
    const share = shareOf(offer);
    const reach = next.reach.map((one) => {
      const brought = offer.brings.find(({ of }) => of === one.of);
      if (brought === undefined) return one;
      const supply = one.supply + offer.most * brought.quantity;
      return { of: one.of, supply, share: one.supply === 0 ? share : least(share, one.share) };
    });
    return { undecided: { offer, next }, reach };
  }, decided);
}

function shareOf({ price, brings }: Offer): Price {
  const pieces = piecesOf(brings);
  return { unpriced: price.unpriced / pieces, cost: price.cost / pieces, count: price.count / pieces };
}

function least(a: Price, b: Price): Price {
  return {
    unpriced: Math.min(a.unpriced, b.unpriced),
    cost: Math.min(a.cost, b.cost),
    count: Math.min(a.count, b.count),
  };
}

/** The better one of what is known and the best that begins like this. */
function explore(rest: Rest, taken: Taken, known: Cover): Cover {
  const hoped = atBest(taken, rest);
  if (!isBetter(hoped, known)) return known;
  if (rest.undecided === null) return { ...hoped, kits: taken.kits, loose: looseIn(rest) };
  const { offer, next } = rest.undecided;
  let quantity = 0;
  for (; quantity < offer.most && offer.brings.some(({ of }) => of.missing > 0); quantity++) take(offer, 1);
  let best = known;
  // Many of the first part before few: of equals the first by part number is met first and kept.
  for (; quantity > 0; quantity--) {
    best = explore(next, withKits(taken, offer, quantity), best);
    take(offer, -1);
  }
  return explore(next, taken, best);
}

/** Takes a kit, or with -1 gives it back. */
function take({ brings }: Offer, kits: 1 | -1): void {
  for (const { of, quantity } of brings) of.missing -= kits * quantity;
}

function withKits({ unpriced, cost, count, kits }: Taken, offer: Offer, quantity: number): Taken {
  const { price } = offer;
  return {
    unpriced: unpriced + quantity * price.unpriced,
    cost: cost + quantity * price.cost,
    count: count + quantity,
    kits: { offer, quantity, before: kits },
  };
}

function looseIn({ reach }: Rest): Need[] {
  return reach.flatMap(({ of: { need, missing } }) => (missing > 0 ? [{ ...need, quantity: missing }] : []));
}

type Hoped = Price & { readonly pieces: number };

function isBetter(a: Hoped, b: Hoped): boolean {
  if (a.pieces !== b.pieces) return a.pieces < b.pieces;
  if (a.unpriced !== b.unpriced) return a.unpriced < b.unpriced;
  return a.cost !== b.cost ? a.cost < b.cost : a.count < b.count;
}

/**
 * No worse than any combination that begins like this: as little loose as if every remaining kit were taken as often as
 * it can be, and each piece met by the kit that asks the least for it.
 */
function atBest(taken: Taken, { reach }: Rest): Hoped {
  let pieces = 0;
  let unpriced = 0;
  let cost = 0;
  let count = 0;
  for (const { of, supply, share } of reach) {
    if (of.missing <= 0) continue;
    const met = Math.min(of.missing, supply);
    pieces += of.missing - met;
    unpriced += met * share.unpriced;
    cost += met * share.cost;
    count += met * share.count;
  }
  return {
    pieces,
    unpriced: taken.unpriced + roundedUp(unpriced),
    cost: taken.cost + roundedUp(cost),
    count: taken.count + roundedUp(count),
  };
}

/** A sum of shares to the next whole number, but not for what the last bits of doubles add to it. */
function roundedUp(shares: number): number {
  return Math.ceil(shares * (1 - 1e-12));
}

function listed(kits: Kits): NonNullable<Kits>[] {
  return kits === null ? [] : [...listed(kits.before), kits];
}

/** What the kits bring and the job doesn't take, kit by kit in the order of their parts. */
function leftOver(kits: readonly NonNullable<Kits>[]): Held[] {
  const met = new Map<Open, number>();
  const over = kits.flatMap(({ offer, quantity }) =>
    offer.contents.map(({ held: { element, quantity: each }, of }): Held => {
      const brought = each * quantity;
      if (of === undefined) return { element, quantity: brought };
      const before = met.get(of) ?? 0;
      const takes = Math.min(brought, of.need.quantity - before);
      met.set(of, before + takes);
      return { element, quantity: brought - takes };
    }),
  );
  return together(over.filter(({ quantity }) => quantity > 0));
}
