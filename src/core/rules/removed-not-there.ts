import { type Held, without } from '../fit/fit.ts';
import { contentAt } from '../fit/layout.ts';
import type { Case } from '../judge/case.ts';
import type { Rule } from './rule.ts';
import { said } from './said.ts';

export const removedNotThere: Rule = {
  id: 'removed-not-there',
  severity: 'refuse',
  kinds: ['conversion', 'mounting', 'repair'],
  sentence: 'What is taken out of a station was found there.',
  basis: 'A record that finds one thing and takes out another contradicts itself.',
  clears: null,
  check: (judged) =>
    removedInVain(judged)
      .filter(({ station }) => judged.record.found?.stations?.[station] !== undefined)
      .map(({ index, station, there, taken }) => ({
        pointer: `/removed/${index}`,
        expected: said(there),
        found: taken,
        because: `${station} was found to hold ${said(there)}.`,
      })),
};

type InVain = {
  readonly index: number;
  readonly station: string;
  readonly there: readonly Held[];
  readonly element: string;
  /** Together with what the record took out of the station before: a piece comes out once. */
  readonly taken: string;
};

/** What is said to be taken out of a station of which it is known that it wasn't there. */
export function removedInVain({ record, layout, found }: Case): InVain[] {
  return record.removed.flatMap(({ station, element }, index) => {
    const there = contentAt(layout, found, station).elements;
    if (typeof element !== 'string' || there === null) return [];
    const quantity = record.removed
      .slice(0, index + 1)
      .filter((one) => one.station === station && one.element === element)
      .reduce((sum, one) => sum + one.quantity, 0);
    if (without([{ element, quantity }], there).length === 0) return [];
    return [{ index, station, there, element, taken: `${quantity} × ${element}` }];
  });
}
