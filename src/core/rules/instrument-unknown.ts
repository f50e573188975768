import { isUnknown } from '../records/parts.ts';
import { concession, type Rule } from './rule.ts';

export const instrumentUnknown: Rule = {
  id: 'instrument-unknown',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'adjustment', 'inspection'],
  sentence: 'It is known with which instrument a reading was taken.',
  basis: 'A reading whose instrument is not known cannot be followed when an instrument is found wrong.',
  clears: 'a later record with the reading from a known instrument, or a concession',
  check: (judged) => {
    const torques = judged.record.torques.map((one, i) => ({
      at: `/torques/${i}/instrument`,
      kind: 'torque' as const,
      place: one.joint,
      instrument: one.instrument,
    }));
    const settings = judged.record.settings.map((one, i) => ({
      at: `/settings/${i}/instrument`,
      kind: 'setting' as const,
      place: one.setting,
      instrument: one.instrument,
    }));
    return [...torques, ...settings].flatMap(({ at, kind, place, instrument }) =>
      isUnknown(instrument)
        ? [
            {
              pointer: at,
              found: instrument.unknown,
              because: `With what the ${kind} of ${place} was taken is not known.`,
              clearedBy: [{ kind, place }, concession(judged)],
            },
          ]
        : [],
    );
  },
};
