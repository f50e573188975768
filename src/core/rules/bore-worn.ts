import { boresOutside } from '../judge/bores.ts';
import type { Rule } from './rule.ts';
import { saidRange } from './said.ts';

export const boreWorn: Rule = {
  id: 'bore-worn',
  severity: 'note',
  kinds: ['conversion', 'mounting', 'repair'],
  sentence: 'A part that is taken out has the bore of its element, within the tolerance that the edition gives.',
  basis: 'It is out, and holds nothing; but the pump ran with it, washed out, clogged or mistaken for another.',
  clears: null,
  check: (judged) =>
    boresOutside(judged, 'removed').map(({ pointer, station, measured, element, range }) => ({
      pointer,
      expected: saidRange(range),
      found: `${measured.value} ${measured.unit}`,
      because: `The ${element.id} taken out of ${station} has a bore of ${measured.value} ${measured.unit}; a new one may have ${saidRange(range)}.`,
    })),
};
