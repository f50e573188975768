/** What of one lot lies in a shop to be taken: kits that are whole, and loose pieces. */
import type { Pieces } from './contents.ts';
import { balanceOf, type Ledger } from './ledger.ts';

export type OnShelf = { readonly kits: number; readonly pieces: Pieces };

const nothing: OnShelf = { kits: 0, pieces: new Map() };

/**
 * As many whole kits as the balance of every item in them allows; what is left of opened ones is loose. What isn't
 * known to be there isn't offered, and what was overdrawn isn't either.
 * @param keeps whether a piece of this item may still be used: a kit with one that may not is so many loose pieces
 */
export function onShelf(ledger: Ledger, shop: string, keeps: (item: string) => boolean): OnShelf {
  const balance = balanceOf(ledger, shop);
  if (balance === null) return nothing;
  const left = new Map(balance.items.map((one) => [one.item, Math.max(0, one.balance)]));
  const each = kitAt(ledger, shop);
  const isGood = [...each.keys()].every(keeps);
  const whole = [...left].flatMap(([item, quantity]) => {
    const perKit = each.get(item);
    return perKit === undefined ? [] : [Math.floor(quantity / perKit)];
  });
  const kits = whole.length === 0 || !isGood ? 0 : Math.min(...whole);
  const pieces = [...left].map(([item, quantity]) => [item, quantity - kits * (each.get(item) ?? 0)] as const);
  return { kits, pieces: new Map(pieces.filter(([item, quantity]) => quantity > 0 && keeps(item))) };
}

/** What is in one kit of the lot as it came in; empty where it is no lot of kits, or none came in whole. */
function kitAt({ contents, moves }: Ledger, shop: string): Pieces {
  const isWhole = (what: string) => what === 'intake' || what === 'count';
  const first = moves.find((one) => one.shop === shop && one.item === null && isWhole(one.what));
  return contents.of !== 'kit' || first === undefined ? new Map() : contents.at(first.at);
}
