/** Bores that a record measured of parts, by pin gauge, beside what the edition gives their elements. */
import type Fraction from 'fraction.js';
import type { Element } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import { isWithin, sizeOf } from '../quantity/exact.ts';
import type { Quantity } from '../quantity/quantity.ts';
import { type Range, rangeOf } from '../quantity/range.ts';
import { dimensionOf } from '../quantity/unit.ts';
import type { Case, JudgedRecord } from './case.ts';

type List = 'removed' | 'fitted';
type Part = JudgedRecord[List][number];

export type BoreMeasured = {
  readonly pointer: string;
  readonly station: string;
  readonly measured: Quantity;
  /** Null where it is not known what the part is. */
  readonly element: Element | null;
};

/** What is no length is `unit-wrong`'s to say. */
export function boresMeasured({ record, edition }: Case, list: List): BoreMeasured[] {
  return record[list].flatMap(({ station, element, measured }: Part, at) => {
    const bore = measured?.['bore'];
    if (bore === undefined || dimensionOf(bore.unit) !== 'length') return [];
    const known = typeof element === 'string' ? elementOf(edition, element) : null;
    return [{ pointer: `/${list}/${at}/measured/bore`, station, measured: bore, element: known }];
  });
}

export type BoreOutside = BoreMeasured & { readonly element: Element; readonly range: Range };

/** Those that the edition gives a tolerance, and that are not within it. */
export function boresOutside(judged: Case, list: List): BoreOutside[] {
  return boresMeasured(judged, list).flatMap((one) => {
    const { element, measured } = one;
    if (element?.boreTolerance === undefined) return [];
    const range = rangeOf({ target: element.bore, tolerance: element.boreTolerance });
    return isWithin(measured, range.min, range.max) ? [] : [{ ...one, element, range }];
  });
}

type WithBore = Element & { readonly bore: Quantity };

/** The element that the station accepts whose bore is nearest to what was measured; null: its own is, or isn't known. */
export function nearerThanOwn(
  { edition, layout }: Case,
  { station, measured, element }: BoreMeasured,
): { readonly own: WithBore; readonly nearer: WithBore } | null {
  if (element === null || !hasBore(element)) return null;
  const away = ({ bore }: WithBore): Fraction => sizeOf(bore).sub(sizeOf(measured)).abs();
  const accepts = layout.station.get(station)?.accepts;
  const nearer = edition.elements
    .filter(({ id }) => accepts?.includes(id))
    .filter(hasBore)
    .reduce((best, one) => (away(one).lt(away(best)) ? one : best), element);
  return nearer === element ? null : { own: element, nearer };
}

function hasBore(element: Element): element is WithBore {
  return element.bore !== undefined;
}
