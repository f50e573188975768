import { lastVerdicts } from '../judge/evidence.ts';
import { benchWork, type Rule } from './rule.ts';

export const instrumentCoarse: Rule = {
  id: 'instrument-coarse',
  severity: 'note',
  kinds: benchWork,
  sentence:
    'An instrument is finer than what it decides: half the tolerance is at least four times its expanded uncertainty.',
  basis: 'Common practice of calibration ("4:1"); JCGM 106:2012, 7.6.3 defines the ratio and sets no number.',
  clears: null,
  check: (judged) =>
    lastVerdicts(judged).flatMap(({ pointer, of, place, fitness, probability }) => {
      if (fitness.fit !== false) return [];
      return [
        {
          pointer,
          expected: '4',
          found: String(fitness.ratio),
          because: `For the ${of} of ${place} half the tolerance is ${fitness.ratio} times the uncertainty of the instrument; that it conforms has the probability ${probability}.`,
        },
      ];
    }),
};
