import { standingOf } from '../judge/assess-reading.ts';
import { countedInstruments } from '../judge/counted-instruments.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const instrumentSuspect: Rule = {
  id: 'instrument-suspect',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A reading is taken with an instrument that was not dropped or overloaded since it was last found good.',
  basis: 'A fall or an overload moves a mechanism without leaving a mark; common practice, no published source.',
  clears:
    'a calibration or check that finds the instrument good, a later record with the reading from another, or a concession',
  check: (judged) =>
    countedInstruments(judged).flatMap(({ pointer, kind, place, instrument, line }) => {
      const suspect = standingOf(judged, line)?.suspect ?? null;
      if (suspect === null) return [];
      return [
        {
          pointer,
          found: suspect.body.what,
          because: `${instrument} had been ${suspect.body.what} before the ${kind} of ${place} was taken, and was not found good since.`,
          clearedBy: [{ kind: 'calibration', place: String(instrument) }, { kind, place }, concession(judged)],
        },
      ];
    }),
};
