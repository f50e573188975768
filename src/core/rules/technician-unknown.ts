import { peopleOfLines } from '../judge/evidence.ts';
import { isUnknown } from '../records/parts.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const technicianUnknown: Rule = {
  id: 'technician-unknown',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'It is known who did the work, and each part of it that another did.',
  basis: 'Whether somebody may do this work can only be said of somebody known.',
  clears: 'a concession',
  check: (judged) =>
    [{ pointer: '/technician', by: judged.record.technician }, ...peopleOfLines(judged.record)].flatMap(
      ({ pointer, by }) =>
        isUnknown(by)
          ? [
              {
                pointer,
                found: by.unknown,
                because:
                  pointer === '/technician'
                    ? 'Who did the work is not known.'
                    : 'Who did this part of the work is not known.',
                clearedBy: [concession(judged)],
              },
            ]
          : [],
    ),
};
