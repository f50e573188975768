import { instrumentOf, reaches, readingsOf } from '../judge/evidence.ts';
import { concession, type Rule } from './rule.ts';

export const instrumentOutOfRange: Rule = {
  id: 'instrument-out-of-range',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'adjustment', 'inspection'],
  sentence: 'A reading lies within the range of its instrument.',
  basis: 'Outside its range an instrument is not calibrated and says nothing.',
  clears: 'a later record with a reading within range, or a concession',
  check: (judged) => {
    const torques = judged.record.torques.map((one, i) => ({
      pointer: `/torques/${i}/reading`,
      kind: 'torque' as const,
      place: one.joint,
      ...one,
    }));
    const settings = judged.record.settings.map((one, i) => ({
      pointer: `/settings/${i}/reading`,
      kind: 'setting' as const,
      place: one.setting,
      ...one,
    }));
    return [...torques, ...settings].flatMap(({ pointer, kind, place, reading, instrument }) => {
      const known = instrumentOf(judged, instrument)?.statement;
      const off = known === undefined ? undefined : readingsOf(reading).find((one) => !reaches(known, one));
      if (known?.range === undefined || off === undefined) return [];
      const { min, max } = known.range;
      return [
        {
          pointer,
          expected: `${min.value} to ${max.value} ${max.unit}`,
          found: `${off.value} ${off.unit}`,
          because: `${off.value} ${off.unit} is outside the range of the instrument.`,
          clearedBy: [{ kind, place }, concession(judged)],
        },
      ];
    });
  },
};
