import { standingOf } from '../judge/assess-reading.ts';
import { countedInstruments } from '../judge/counted-instruments.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const calibrationMissing: Rule = {
  id: 'calibration-missing',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A calibration is known of the instrument of every torque and setting, where the edition asks for it.',
  basis: 'Without one nobody has compared the instrument with anything.',
  clears: 'a calibration, a later record with the reading from an instrument in calibration, or a concession',
  check: (judged) =>
    judged.edition.demands?.calibrated !== true
      ? []
      : countedInstruments(judged).flatMap(({ pointer, kind, place, instrument, line }) => {
          if (kind === 'measurement' || standingOf(judged, line)?.neverCalibrated !== true) return [];
          return [
            {
              pointer,
              found: String(instrument),
              because: `No calibration of ${instrument} is known that was in force when the ${kind} of ${place} was taken.`,
              clearedBy: [{ kind: 'calibration', place: String(instrument) }, { kind, place }, concession(judged)],
            },
          ];
        }),
};
