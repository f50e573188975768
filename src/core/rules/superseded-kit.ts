import { lotKeyOf } from '../records/lot-name.ts';
import type { Rule } from './rule.ts';

export const supersededKit: Rule = {
  id: 'superseded-kit',
  severity: 'note',
  kinds: ['conversion', 'mounting', 'repair'],
  sentence: 'A part from a kit that another kit supersedes is noted.',
  basis: 'The maker has replaced the kit; what is in an old one may still be good.',
  clears: null,
  check: ({ record, edition, known }) =>
    record.fitted.flatMap(({ lot }, index) => {
      const part = known.lots.get(lotKeyOf(lot, edition.maker) ?? '')?.statement.part;
      const newer = edition.kits.find((kit) => part !== undefined && kit.supersedes.includes(part));
      if (part === undefined || newer === undefined) return [];
      return [
        {
          pointer: `/fitted/${index}/lot`,
          expected: newer.part,
          found: part,
          because: `${part} is superseded by ${newer.part}.`,
        },
      ];
    }),
};
