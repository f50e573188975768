/**
 * Which kits to take. The best cover leaves the fewest pieces loose, then costs least, then takes the fewest kits,
 * then comes first by part number. Exact: every useful combination is tried, with bounds.
 */
import type { Edition, Element, Kit } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import type { Held } from './fit.ts';
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
  const wanted = new Map(needs.map((need) => [keyOf(need), need.quantity]));
  const offers = offersFor(wanted, shelf);
  const search: Search = { offers, best: null };
  explore(search, 0, { counts: [], open: wanted, cost: 0, kits: 0 });
  const { counts, open } = search.best ?? { counts: [], open: wanted };
  const taken = offers.map((offer, index) => ({ offer, quantity: counts[index] ?? 0 }));
  return {
    kits: taken.flatMap(({ offer, quantity }) => (quantity > 0 ? [{ part: offer.kit.part, quantity }] : [])),
    loose: needs.flatMap((need) => {
      const quantity = open.get(keyOf(need)) ?? 0;
      return quantity > 0 ? [{ ...need, quantity }] : [];
    }),
    leftOver: leftOver(wanted, open, taken),
  };
}

type Offer = {
  readonly kit: Kit;
  readonly most: number;
  /** What of one kit meets which need. */
  readonly brings: ReadonlyMap<string, number>;
  readonly keys: readonly { key: string; held: Held }[];
};
type Taken = { counts: readonly number[]; open: ReadonlyMap<string, number>; cost: number; kits: number };
type Search = { readonly offers: readonly Offer[]; best: Taken | null };

function keyOf(need: Need): string {
  return 'seal' in need ? `seal ${need.seal}` : `element ${need.element}`;
}

function offersFor(wanted: ReadonlyMap<string, number>, { edition, body, fluid, stock, day }: Shelf): Offer[] {
  return edition.kits
    .filter((kit) => kit.bodies.includes(body) && kit.retired !== true && !isWithdrawn(kit, day))
    .map((kit): Offer => {
      const keys = kit.contents.map((held) => ({
        key: keyOfPiece(elementOf(edition, held.element), held, fluid),
        held,
      }));
      const brings = new Map<string, number>();
      for (const { key, held } of keys) if (wanted.has(key)) brings.set(key, (brings.get(key) ?? 0) + held.quantity);
      const useful = [...brings].map(([key, quantity]) => Math.ceil((wanted.get(key) ?? 0) / quantity));
      return {
        kit,
        keys,
        brings,
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
function keyOfPiece(element: Element | null, held: Held, fluid: string | null): string {
  const stands = fluid === null || element?.fluids === undefined || element.fluids.includes(fluid);
  return element?.fits !== undefined && stands ? `seal ${element.fits}` : `element ${held.element}`;
}

function explore(search: Search, at: number, taken: Taken): void {
  const { offers, best } = search;
  const rest = offers.slice(at);
  if (best !== null && !isBetter({ ...taken, open: openAtBest(taken.open, rest) }, best)) return;
  const offer = rest[0];
  if (offer === undefined) {
    search.best = taken;
    return;
  }
  const options: Taken[] = [{ ...taken, counts: [...taken.counts, 0] }];
  for (let open = taken.open, quantity = 1; quantity <= offer.most && meetsAny(open, offer); quantity++) {
    open = minus(open, offer);
    options.push({
      counts: [...taken.counts, quantity],
      open,
      cost: taken.cost + quantity * offer.kit.cost,
      kits: taken.kits + quantity,
    });
  }
  // Many of the first part before few: of equals the first by part number is met first and kept.
  for (const option of options.reverse()) explore(search, at + 1, option);
}

function isBetter(a: Taken, b: Taken): boolean {
  const loose = total(a.open) - total(b.open);
  if (loose !== 0) return loose < 0;
  return a.cost !== b.cost ? a.cost < b.cost : a.kits < b.kits;
}

/** What would still be loose if every remaining kit were taken as often as it can be. */
function openAtBest(open: ReadonlyMap<string, number>, offers: readonly Offer[]): ReadonlyMap<string, number> {
  return new Map(
    [...open].map(([key, quantity]) => [
      key,
      Math.max(0, quantity - offers.reduce((sum, { brings, most }) => sum + most * (brings.get(key) ?? 0), 0)),
    ]),
  );
}

function meetsAny(open: ReadonlyMap<string, number>, { brings }: Offer): boolean {
  return [...brings.keys()].some((key) => (open.get(key) ?? 0) > 0);
}

function minus(open: ReadonlyMap<string, number>, { brings }: Offer): ReadonlyMap<string, number> {
  return new Map([...open].map(([key, quantity]) => [key, Math.max(0, quantity - (brings.get(key) ?? 0))]));
}

function total(open: ReadonlyMap<string, number>): number {
  return [...open.values()].reduce((sum, quantity) => sum + quantity, 0);
}

/** What the kits bring and the job doesn't take, kit by kit in the order of their parts. */
function leftOver(
  wanted: ReadonlyMap<string, number>,
  open: ReadonlyMap<string, number>,
  taken: readonly { offer: Offer; quantity: number }[],
): Held[] {
  const used = new Map([...wanted].map(([key, quantity]) => [key, quantity - (open.get(key) ?? 0)]));
  const over = new Map<string, number>();
  for (const { offer, quantity } of taken) {
    for (const { key, held } of offer.keys) {
      const brought = held.quantity * quantity;
      const takes = Math.min(brought, used.get(key) ?? 0);
      used.set(key, (used.get(key) ?? 0) - takes);
      if (brought > takes) over.set(held.element, (over.get(held.element) ?? 0) + brought - takes);
    }
  }
  return [...over].map(([element, quantity]) => ({ element, quantity }));
}
