import { standingOf } from '../judge/assess-reading.ts';
import { countedInstruments } from '../judge/counted-instruments.ts';
import { isAwaited } from './calibration-awaited.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const instrumentOverdue: Rule = {
  id: 'instrument-overdue',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A reading is taken with an instrument whose calibration was not overdue.',
  basis: 'Past its date nobody answers for what an instrument shows, until it is found good.',
  clears:
    'a calibration that finds the instrument good, a later record with the reading from an instrument in calibration, or a concession',
  check: (judged) =>
    countedInstruments(judged).flatMap(({ pointer, kind, place, instrument, line }) => {
      const standing = standingOf(judged, line);
      if (standing?.overdue !== true || isAwaited(judged, instrument)) return [];
      return [
        {
          pointer,
          expected: `calibrated by ${standing.due}`,
          found: String(instrument),
          because: `The calibration of ${instrument} was due at ${standing.due}, before the ${kind} of ${place} was taken.`,
          clearedBy: [{ kind: 'calibration', place: String(instrument) }, { kind, place }, concession(judged)],
        },
      ];
    }),
};
