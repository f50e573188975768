import { instrumentOf } from '../judge/assess-reading.ts';
import { countedReadings, reaches } from '../judge/evidence.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const instrumentOutOfRange: Rule = {
  id: 'instrument-out-of-range',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A reading lies within the range of its instrument.',
  basis: 'Outside its range an instrument is not calibrated and says nothing.',
  clears: 'a later record with a reading within range, or a concession',
  check: (judged) =>
    countedReadings(judged).flatMap(({ at, kind, place, readings, instrument }) => {
      const known = instrumentOf(judged, instrument)?.statement;
      const off = known === undefined ? undefined : readings.find((one) => !reaches(known, one));
      if (known?.range === undefined || off === undefined) return [];
      const { min, max } = known.range;
      return [
        {
          pointer: `${at}/reading`,
          expected: `${min.value} ${min.unit} to ${max.value} ${max.unit}`,
          found: `${off.value} ${off.unit}`,
          because: `${off.value} ${off.unit} is outside the range of the instrument.`,
          clearedBy: [{ kind, place }, concession(judged)],
        },
      ];
    }),
};
