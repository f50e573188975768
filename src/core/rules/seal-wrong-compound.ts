import { elementOf } from '../catalogue/lookup.ts';
import { standsFluid } from '../judge/evidence.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const sealWrongCompound: Rule = {
  id: 'seal-wrong-compound',
  severity: 'hold',
  kinds: benchWork,
  sentence: "A seal's compound stands the fluid of the pump.",
  basis:
    'The edition lists the fluids of each seal; in another it swells or hardens. Nothing is said where the fluid is not known.',
  clears: 'a later record with a seal that stands the fluid, or a concession',
  check: (judged) =>
    judged.record.seals.flatMap(({ joint, seal }, index) => {
      if (typeof seal !== 'string' || standsFluid(judged, seal)) return [];
      const element = elementOf(judged.edition, seal);
      return [
        {
          pointer: `/seals/${index}/seal`,
          expected: `a seal for ${judged.pumpAtHand?.fluid}`,
          found: `${seal} (${element?.compound ?? 'compound not stated'})`,
          because: `${seal} at ${joint} doesn't stand ${judged.pumpAtHand?.fluid}.`,
          clearedBy: [{ kind: 'seal', place: joint }, concession(judged)],
        },
      ];
    }),
};
