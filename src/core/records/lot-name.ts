/** How lots are named: by the maker or supplier, and the number that is on them. */
import { isUnknown, type LotRef } from './parts.ts';

export type LotName = { readonly maker: string; readonly number: string };

/** No slug of a maker holds a slash: no two lots have one key. */
export function lotKey(maker: string, number: string): string {
  return `${maker}/${number}`;
}

/** The lot of a key. */
export function lotNamed(key: string): LotName {
  const slash = key.indexOf('/');
  return { maker: key.slice(0, slash), number: key.slice(slash + 1) };
}

/** The key of a lot that a record names; the maker of the catalogue where only a number is given. */
export function lotKeyOf(lot: LotRef | undefined, maker: string): string | null {
  if (lot === undefined || isUnknown(lot)) return null;
  return typeof lot === 'string' ? lotKey(maker, lot) : lotKey(lot.maker, lot.number);
}
