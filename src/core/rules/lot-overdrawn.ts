import { lotLines } from '../judge/lot-lines.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const lotOverdrawn: Rule = {
  id: 'lot-overdrawn',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'No more of a lot is used in a shop than came in there.',
  basis:
    'Either goods came in unrecorded or this came from another lot, and a recall would miss it. Held are the last in the order of the work, whatever was recorded first.',
  clears: 'an intake of the lot, or a count that finds more, recorded however late; or a concession',
  check: (judged) =>
    lotLines(judged).flatMap(({ pointer, item, lot }) => {
      const over = judged.stock.get(lot)?.find((one) => one.item === item);
      if (over === undefined) return [];
      return [
        {
          pointer,
          expected: String(over.supply),
          found: item,
          because: `Up to this record ${over.used} of ${item} from lot ${lot} were used here, and there were ${over.supply}.`,
          clearedBy: [{ kind: 'intake', place: lot }, concession(judged)],
        },
      ];
    }),
};
