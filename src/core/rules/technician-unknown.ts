import { isUnknown } from '../records/parts.ts';
import { concession, type Rule } from './rule.ts';

export const technicianUnknown: Rule = {
  id: 'technician-unknown',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'adjustment', 'inspection'],
  sentence: 'It is known who did the work.',
  basis: 'Whether somebody may do this work can only be said of somebody known.',
  clears: 'a concession',
  check: (judged) =>
    isUnknown(judged.record.technician)
      ? [
          {
            pointer: '/technician',
            found: judged.record.technician.unknown,
            because: 'Who did the work is not known.',
            clearedBy: [concession(judged)],
          },
        ]
      : [],
};
