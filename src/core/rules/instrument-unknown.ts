import { countedReadings, isCounted } from '../judge/evidence.ts';
import { isUnknown } from '../records/parts.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const instrumentUnknown: Rule = {
  id: 'instrument-unknown',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'It is known with which instrument a reading was taken; turns and angles are counted, and need none.',
  basis: 'A reading whose instrument is not known cannot be followed when an instrument is found wrong.',
  clears: 'a later record with the reading from a known instrument, or a concession',
  check: (judged) =>
    countedReadings(judged).flatMap(({ at, kind, place, instrument }) =>
      isUnknown(instrument) && !(kind === 'setting' && isCounted(judged, place))
        ? [
            {
              pointer: `${at}/instrument`,
              found: instrument.unknown,
              because: `With what the ${kind} of ${place} was taken is not known.`,
              clearedBy: [{ kind, place }, concession(judged)],
            },
          ]
        : [],
    ),
};
