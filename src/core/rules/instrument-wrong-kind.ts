import { instrumentOf } from '../judge/assess-reading.ts';
import { countedInstruments } from '../judge/counted-instruments.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const instrumentWrongKind: Rule = {
  id: 'instrument-wrong-kind',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A torque is taken with a torque wrench, a setting with a gauge or a stand.',
  basis: 'An instrument that cannot measure a thing has not measured it.',
  clears: 'a later record with the reading from a fitting instrument, or a concession',
  check: (judged) =>
    countedInstruments(judged).flatMap(({ pointer, kind, place, instrument }) => {
      const known = instrumentOf(judged, instrument)?.statement;
      if (known === undefined || kind === 'measurement' || (known.kind === 'torque-wrench') === (kind === 'torque'))
        return [];
      return [
        {
          pointer,
          expected: kind === 'torque' ? 'torque-wrench' : 'gauge or stand',
          found: known.kind,
          because: `The ${kind} of ${place} was taken with a ${known.kind}.`,
          clearedBy: [{ kind, place }, concession(judged)],
        },
      ];
    }),
};
