import { isUnknown } from '../records/parts.ts';
import { benchWork, type Rule } from './rule.ts';

export const sealUnknown: Rule = {
  id: 'seal-unknown',
  severity: 'note',
  kinds: benchWork,
  sentence: 'A seal that was renewed with one not known by name or lot is noted.',
  basis: 'Seals come loose from drawers as often as from kits; that it was renewed is what counts first.',
  clears: null,
  check: ({ record }) =>
    record.seals.flatMap(({ joint, seal, lot }, index) => {
      if (isUnknown(seal))
        return [
          {
            pointer: `/seals/${index}/seal`,
            found: seal.unknown,
            because: `Which seal went into ${joint} is not known.`,
          },
        ];
      if (lot !== undefined && !isUnknown(lot)) return [];
      return [{ pointer: `/seals/${index}/lot`, because: `From which lot the seal of ${joint} came is not known.` }];
    }),
};
