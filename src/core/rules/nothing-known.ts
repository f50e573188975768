import { peopleOfLines } from '../judge/evidence.ts';
import { isUnknown } from '../records/parts.ts';
import { benchWork, type Rule } from './rule.ts';

export const nothingKnown: Rule = {
  id: 'nothing-known',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A record knows at least one of who, with what, and from which lot.',
  basis: 'Otherwise it proves nothing that could be followed, and no leave to use makes it better.',
  clears: 'a correction of the record',
  check: ({ record, fact }) => {
    const named = [
      record.technician,
      ...peopleOfLines(record).map((one) => one.by),
      ...record.torques.map((one) => one.instrument),
      ...record.settings.map((one) => one.instrument),
      ...record.measurements.map((one) => one.instrument),
      ...record.fitted.flatMap((one) => [one.element, one.lot ?? { unknown: 'not stated' }]),
      ...record.seals.flatMap((one) => [one.seal, one.lot ?? { unknown: 'not stated' }]),
    ];
    if (!named.every(isUnknown)) return [];
    return [
      {
        pointer: '',
        because: 'Everything that would give this record weight is unknown.',
        clearedBy: [{ kind: 'correction', place: fact }],
      },
    ];
  },
};
