import { boresMeasured } from '../judge/bores.ts';
import type { Rule } from './rule.ts';

export const boreUnknown: Rule = {
  id: 'bore-unknown',
  severity: 'note',
  kinds: ['conversion', 'mounting', 'repair'],
  sentence: 'A bore that was measured is that of a part of which the edition gives the bore.',
  basis: 'What a reading is held against is known, or said not to be.',
  clears: null,
  check: (judged) =>
    [...boresMeasured(judged, 'removed'), ...boresMeasured(judged, 'fitted')].flatMap(
      ({ pointer, station, measured, element }) => {
        if (element?.bore !== undefined) return [];
        const why = element === null ? 'what the part is' : `which bore ${element.id} has`;
        return [
          {
            pointer,
            found: `${measured.value} ${measured.unit}`,
            because: `A bore of ${measured.value} ${measured.unit} at ${station} is held against nothing: ${why} is not known.`,
          },
        ];
      },
    ),
};
