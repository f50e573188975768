import { elementOf } from '../catalogue/lookup.ts';
import { isUnknown } from '../records/parts.ts';
import { concession, type Rule } from './rule.ts';

export const lotUnknown: Rule = {
  id: 'lot-unknown',
  severity: 'hold',
  kinds: ['conversion', 'mounting', 'repair'],
  sentence: 'It is known from which lot a fitted element came, unless the edition says that it is not tracked.',
  basis: 'A recall finds a part by its lot; one without can be in any of them.',
  clears: 'a later record that takes out what the station holds, or a concession',
  check: (judged) =>
    judged.record.fitted.flatMap(({ station, element, lot }, index) => {
      if (lot !== undefined && !isUnknown(lot)) return [];
      if (typeof element === 'string' && elementOf(judged.edition, element)?.untracked === true) return [];
      return [
        {
          pointer: `/fitted/${index}/lot`,
          found: lot === undefined ? 'not stated' : lot.unknown,
          because: `From which lot ${typeof element === 'string' ? element : 'what was fitted'} at ${station} came is not known.`,
          clearedBy: [{ kind: 'part', place: station }, concession(judged)],
        },
      ];
    }),
};
