import type { Edition } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import { lotLines } from '../judge/lot-lines.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const notOfLot: Rule = {
  id: 'not-of-lot',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A fitted element or seal is in the part that its lot is of, where the edition knows that part.',
  basis: 'Either the lot is a slip of the pen or something else went in; a recall of either would miss this unit.',
  clears:
    'a later record that takes out what the station holds or renews the seals of the joint, a correction, or a concession',
  check: (judged) =>
    lotLines(judged).flatMap(({ pointer, item, lot, stated: { part }, clear }) => {
      const contents = contentsOf(judged.edition, part);
      if (contents === null || contents.includes(item)) return [];
      return [
        {
          pointer,
          expected: contents.join(' or '),
          found: item,
          because: `Lot ${lot} is of ${part}, and ${item} is not in that.`,
          clearedBy: [clear, concession(judged)],
        },
      ];
    }),
};

/** What a part of this edition is made of: a kit of several things, an element of itself. Null: bought elsewhere. */
function contentsOf(edition: Edition, part: string): readonly string[] | null {
  const kit = edition.kits.find((one) => one.part === part);
  if (kit !== undefined) return kit.contents.map((one) => one.element);
  return elementOf(edition, part) === null ? null : [part];
}
