import { elementOf } from '../catalogue/lookup.ts';
import { lotLines, lotsBehind } from '../judge/lot-lines.ts';
import { addPeriod } from '../time/add-period.ts';
import { parseTime } from '../time/instant.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const sealPastLife: Rule = {
  id: 'seal-past-life',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'What has a shelf life is used before that is over.',
  basis:
    'Elastomers age on the shelf; the edition says how long each keeps, the lot (of what is in a kit, its own lot) when it was made. Nothing is said where that is not known, or known too roughly.',
  clears:
    'a later record that takes out what the station holds or renews the seals of the joint, a statement of the lot with another day, or a concession',
  check: (judged) =>
    lotLines(judged).flatMap((line) => {
      const life = elementOf(judged.edition, line.item)?.shelfLife;
      const madeAt = lotsBehind(judged, line).findLast(({ stated }) => stated.madeAt !== undefined)?.stated.madeAt;
      if (life === undefined || madeAt === undefined) return [];
      const until = addPeriod(parseTime(madeAt).to, life);
      if (judged.performed.from <= until) return [];
      return [
        {
          pointer: line.pointer,
          expected: until,
          found: line.item,
          because: `${line.item} of lot ${line.lot} keeps ${life}: until ${until.slice(0, 10)}.`,
          clearedBy: [line.clear, concession(judged)],
        },
      ];
    }),
};
