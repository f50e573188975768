/**
 * What came into one lot at one shop, what left it, and which records drew on more than there ever was. Reckoned from
 * all that is known, in the order of the work: so the order in which it was recorded makes no difference.
 */
import type { Instant } from '../time/instant.ts';
import { type Contents, drawnAs, type Pieces } from './contents.ts';

export const moveKinds = ['intake', 'scrapping', 'return', 'count', 'restocking'] as const;
export type MoveKind = (typeof moveKinds)[number];

/** Anything but use. `reference` orders counts of one time. */
export type Move = {
  readonly what: MoveKind;
  readonly shop: string;
  readonly at: Instant;
  readonly reference: string;
  readonly quantity: number;
  /** What the number is of; null: kits where the lot is of a kit and no item is named, else pieces. */
  readonly counts: 'kits' | 'pieces' | null;
  /** The element that the pieces are of; null: the lot's own. */
  readonly item: string | null;
  /** Of a count of kits: the pieces that lie loose beside them. */
  readonly loose: readonly { readonly item: string; readonly quantity: number }[];
};

/** A line of a record that took pieces. */
export type Use = {
  readonly fact: string;
  readonly shop: string;
  readonly at: Instant;
  readonly reference: string;
  readonly item: string;
  readonly quantity: number;
};

/** Of one lot; moves and uses at every shop. */
export type Ledger = { readonly contents: Contents; readonly moves: readonly Move[]; readonly uses: readonly Use[] };

/** Of one item at one shop, in pieces. */
export type ItemBalance = {
  readonly item: string;
  readonly takenIn: number;
  readonly restocked: number;
  readonly used: number;
  readonly scrapped: number;
  readonly returned: number;
  /** What counts found beyond what should have been there: that much came in unrecorded, or left if it is negative. */
  readonly counted: number;
  readonly balance: number;
};

export type ShopBalance = {
  readonly shop: string;
  readonly items: readonly ItemBalance[];
  /** Of a kit: how many came in less those that left whole, of how many at least a piece is gone, and what is left of those. */
  readonly kits: {
    readonly takenIn: number;
    readonly opened: number;
    readonly remainder: readonly { readonly item: string; readonly quantity: number }[];
  } | null;
};

/** Null where nothing says how much of it there was: no intake, count or restocking, or kits of which nobody knows what is in them. */
export function balanceOf(ledger: Ledger, shop: string): ShopBalance | null {
  const here = at(ledger, shop);
  if (here === null) return null;
  const items = itemsOf(here).map((item) => itemBalance(here, item));
  return { shop, items, kits: kitsOf(here, items) };
}

/** How many pieces were there at most of each item, ever: what came in less what left otherwise than by use. */
export function supplyOf(ledger: Ledger, shop: string): ReadonlyMap<string, number> | null {
  const balance = balanceOf(ledger, shop);
  return balance && new Map(balance.items.map((one) => [one.item, one.balance + one.used]));
}

export type Overdrawn = { readonly item: string; readonly used: number; readonly supply: number };

/**
 * The records that took what wasn't there, with the items: in the order of (time, reference) everything up to and with
 * such a record is more than the supply. Records of one time and reference, which are of two kinds, count as one.
 */
export function overdrawnBy(ledger: Ledger, shop: string): ReadonlyMap<string, readonly Overdrawn[]> {
  const found = new Map<string, Overdrawn[]>();
  for (const [item, supply] of supplyOf(ledger, shop) ?? []) {
    const uses = ledger.uses.filter((use) => use.shop === shop && drawnAs(ledger.contents, use.item) === item);
    let used = 0;
    for (const [, group] of [...Map.groupBy(uses, placeOf)].sort(([a], [b]) => (a < b ? -1 : 1))) {
      used += sum(group);
      if (used <= supply) continue;
      for (const fact of new Set(group.map((one) => one.fact))) {
        found.set(fact, [...(found.get(fact) ?? []), { item, used, supply }]);
      }
    }
  }
  return found;
}

/** What a number of this many stands for, by item; null where nobody knows what is in a kit. */
export function piecesMoved(contents: Contents, move: Omit<Move, 'what' | 'shop' | 'reference'>): Pieces | null {
  if (move.item !== null) return new Map([[drawnAs(contents, move.item), move.quantity]]);
  const inKits = (move.counts ?? (contents.of === 'kit' ? 'kits' : 'pieces')) === 'kits';
  if (!inKits) return new Map([[contents.part, move.quantity]]);
  if (contents.of !== 'kit') return null;
  const pieces = new Map([...contents.at(move.at)].map(([item, each]) => [item, each * move.quantity]));
  for (const { item, quantity } of move.loose) pieces.set(item, (pieces.get(item) ?? 0) + quantity);
  return pieces;
}

/** What happened to the lot at one shop; moves with what each stands for. */
type Here = {
  readonly contents: Contents;
  readonly moved: readonly (Move & { readonly pieces: Pieces })[];
  readonly uses: readonly Use[];
};

/** Null where nothing came in, or it isn't known what. */
function at({ contents, moves, uses }: Ledger, shop: string): Here | null {
  const there = moves.filter((one) => one.shop === shop);
  const moved = there.flatMap((move) => {
    const pieces = piecesMoved(contents, move);
    return pieces === null ? [] : [{ ...move, pieces }];
  });
  const came = moved.some(({ what }) => what === 'intake' || what === 'count' || what === 'restocking');
  if (!came || moved.length < there.length) return null;
  return { contents, moved, uses: uses.filter((one) => one.shop === shop) };
}

function itemsOf({ contents, moved, uses }: Here): string[] {
  const named = moved.flatMap(({ pieces }) => [...pieces.keys()]);
  return [...new Set([...named, ...uses.map((one) => drawnAs(contents, one.item))])].sort();
}

function itemBalance({ contents, moved, uses }: Here, item: string): ItemBalance {
  const own = moved.flatMap(({ pieces, ...move }) => {
    const quantity = pieces.get(item);
    return quantity === undefined ? [] : [{ ...move, quantity }];
  });
  const taken = uses.filter((use) => drawnAs(contents, use.item) === item);
  const until = (time: Instant | null) => {
    const by = <One extends { readonly at: Instant }>(all: readonly One[]) =>
      time === null ? all : all.filter((one) => one.at <= time);
    const of = (what: MoveKind) => sum(by(own).filter((move) => move.what === what));
    const [takenIn, restocked, scrapped, returned] = [of('intake'), of('restocking'), of('scrapping'), of('return')];
    const used = sum(by(taken));
    return { takenIn, restocked, scrapped, returned, used, left: takenIn + restocked - scrapped - returned - used };
  };
  // The last count says what was there then, whatever earlier ones found.
  const last = own
    .filter((move) => move.what === 'count')
    .sort((a, b) => (placeOf(a) < placeOf(b) ? -1 : 1))
    .at(-1);
  const counted = last === undefined ? 0 : last.quantity - until(last.at).left;
  const { left, ...all } = until(null);
  return { item, ...all, counted, balance: left + counted };
}

function kitsOf({ contents, moved }: Here, items: readonly ItemBalance[]): ShopBalance['kits'] {
  const whole = (what: MoveKind) => moved.filter((move) => move.what === what && move.item === null);
  const [first] = whole('intake');
  if (contents.of !== 'kit' || first === undefined) return null;
  const each = contents.at(first.at);
  const takenIn = Math.max(0, sum(whole('intake')) - sum(whole('scrapping')) - sum(whole('return')));
  const inKits = items.flatMap(({ item, balance }) => {
    const perKit = each.get(item);
    return perKit === undefined ? [] : [{ item, balance, perKit }];
  });
  const gone = inKits.map(({ balance, perKit }) => takenIn - Math.floor(balance / perKit));
  const opened = Math.min(Math.max(0, ...gone), takenIn);
  const remainder = inKits
    .map(({ item, balance, perKit }) => ({ item, quantity: balance - (takenIn - opened) * perKit }))
    .filter(({ quantity }) => quantity > 0);
  return { takenIn, opened, remainder };
}

function placeOf({ at: time, reference }: Pick<Use, 'at' | 'reference'>): string {
  return `${time} ${reference}`;
}

function sum(all: readonly { readonly quantity: number }[]): number {
  return all.reduce((total, one) => total + one.quantity, 0);
}
