import type { Edition } from '../catalogue/edition.ts';
import { elementOf } from '../catalogue/lookup.ts';
import type { Case } from '../judge/case.ts';
import type { Clear } from './finding.ts';
import { benchWork, concession, type Rule, type Violation } from './rule.ts';
import { lotKeyOf } from './unknown-id.ts';

export const notOfLot: Rule = {
  id: 'not-of-lot',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'A fitted element or seal is in the part that its lot is of, where the edition knows that part.',
  basis: 'Either the lot is a slip of the pen or something else went in; a recall of either would miss this unit.',
  clears:
    'a later record that takes out what the station holds or renews the seals of the joint, a correction, or a concession',
  check: (judged) => [
    ...judged.record.fitted.flatMap(({ station, element, lot }, index) =>
      violation(judged, {
        pointer: `/fitted/${index}/lot`,
        item: element,
        lot,
        clear: { kind: 'part', place: station },
      }),
    ),
    ...judged.record.seals.flatMap(({ joint, seal, lot }, index) =>
      violation(judged, { pointer: `/seals/${index}/lot`, item: seal, lot, clear: { kind: 'seal', place: joint } }),
    ),
  ],
};

type Line = {
  readonly pointer: string;
  /** A text where it is known. */
  readonly item: unknown;
  readonly lot: Parameters<typeof lotKeyOf>[0];
  readonly clear: Clear;
};

function violation(judged: Case, { pointer, item, lot, clear }: Line): Violation[] {
  const { edition, known } = judged;
  const key = lotKeyOf(lot, edition.maker) ?? '';
  const part = known.lots.get(key)?.statement.part ?? '';
  const contents = contentsOf(edition, part);
  if (typeof item !== 'string' || contents === null || contents.includes(item)) return [];
  return [
    {
      pointer,
      expected: contents.join(' or '),
      found: item,
      because: `Lot ${key} is of ${part}, and ${item} is not in that.`,
      clearedBy: [clear, concession(judged)],
    },
  ];
}

/** What a part of this edition is made of: a kit of several things, an element of itself. Null: bought elsewhere. */
function contentsOf(edition: Edition, part: string): readonly string[] | null {
  const kit = edition.kits.find((one) => one.part === part);
  if (kit !== undefined) return kit.contents.map((one) => one.element);
  return elementOf(edition, part) === null ? null : [part];
}
