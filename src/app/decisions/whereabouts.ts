/**
 * Whose record it is that says where a unit is. Events hold no owner: only who may see the record itself knows, and so
 * everything here is asked by the owner of what is decided.
 */
import type { UnitEvent } from '../../core/history/event.ts';
import { fold, isOfCustody } from '../../core/history/fold.ts';
import type { UnitAtHand } from '../../core/judge/case.ts';
import type { Loaded } from '../recording/loaded.ts';

type Asked = { readonly owner: string; readonly shop: string };

/** For work at this shop: here, where the owner's last word is that it came in there, or where it came in since. */
export function whereaboutsOf(
  { state: { custody }, later }: Pick<UnitAtHand, 'state' | 'later'>,
  asked: Asked,
  loaded: Loaded,
): UnitAtHand['whereabouts'] {
  if (custody === null) return 'unknown';
  const isHere = custody.is === 'in' && isAt(custody.record, asked, loaded);
  const cameIn = later.some(({ fact, effect }) => effect.custody === 'in' && isAt(fact, asked, loaded));
  return isHere || cameIn ? 'here' : 'elsewhere';
}

/**
 * The records of work at this shop, of this owner, that were held because nobody had said that the unit was there, and
 * of which a movement behind `before` says so. What comes after it is judged again itself.
 */
export function coveredWork(unit: string, before: readonly UnitEvent[], asked: Asked, loaded: Loaded): string[] {
  const held = fold(unit, before).open.filter(isOfCustody);
  return [...new Set(held.map((one) => one.fact))].filter((fact) => isAt(fact, asked, loaded));
}

function isAt(fact: string, { owner, shop }: Asked, loaded: Loaded): boolean {
  const place = loaded.places.get(fact);
  return place?.owner === owner && place.shop === shop;
}
