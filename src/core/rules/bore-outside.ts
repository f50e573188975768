import { boresOutside } from '../judge/bores.ts';
import { concession, type Rule } from './rule.ts';
import { saidRange } from './said.ts';

export const boreOutside: Rule = {
  id: 'bore-outside',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'repair'],
  sentence: 'A part that is fitted has the bore of its element, within the tolerance that the edition gives.',
  basis: 'The sure check of an orifice is a pin gauge; what is not within tolerance is another part, or a spoilt one.',
  clears: 'a later record with everything at the station renewed, or a concession',
  check: (judged) =>
    boresOutside(judged, 'fitted').map(({ pointer, station, measured, element, range }) => ({
      pointer,
      expected: saidRange(range),
      found: `${measured.value} ${measured.unit}`,
      because: `The ${element.id} fitted to ${station} has a bore of ${measured.value} ${measured.unit}; it may have ${saidRange(range)}.`,
      clearedBy: [{ kind: 'part', place: station }, concession(judged)],
    })),
};
