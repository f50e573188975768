import { boresMeasured, nearerThanOwn } from '../judge/bores.ts';
import type { Quantity } from '../quantity/quantity.ts';
import type { Rule } from './rule.ts';

export const boreOfAnother: Rule = {
  id: 'bore-of-another',
  severity: 'note',
  kinds: ['conversion', 'mounting', 'repair'],
  sentence:
    'The bore that was measured of a part is nearest to that of its element, where the edition gives no tolerance.',
  basis:
    'Orifices of one thread look alike: the classic mistake is one of them for another (common practice, no published source).',
  clears: null,
  check: (judged) =>
    [...boresMeasured(judged, 'removed'), ...boresMeasured(judged, 'fitted')].flatMap((one) => {
      const { pointer, station, measured, element } = one;
      const nearest = element?.boreTolerance === undefined ? nearerThanOwn(judged, one) : null;
      if (nearest === null) return [];
      const { own, nearer } = nearest;
      const said = ({ value, unit }: Quantity) => `${value} ${unit}`;
      return [
        {
          pointer,
          expected: said(own.bore),
          found: said(measured),
          because: `A bore of ${said(measured)} at ${station} is nearer to ${nearer.id} (${said(nearer.bore)}) than to ${own.id} (${said(own.bore)}).`,
        },
      ];
    }),
};
