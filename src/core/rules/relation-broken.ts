import { relationsAtHand } from '../judge/relations-at-hand.ts';
import { benchWork, concession, type Rule } from './rule.ts';

export const relationBroken: Rule = {
  id: 'relation-broken',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Settings keep what the function demands of them together, with the pump and the circuit as far as known.',
  basis: 'A relief below the limiter, or a signal above it, makes a circuit act otherwise than it was built to.',
  clears: 'a later record with one of the settings within bounds, or a concession',
  check: (judged) =>
    relationsAtHand(judged).flatMap(({ relation, is }) => {
      if ('unknown' in is || is.broken === null) return [];
      const settings = relation.sum.flatMap((term) => ('setting' in term ? [term.setting] : []));
      return [
        {
          pointer: '/settings',
          expected: `${is.broken} 0`,
          found: `${is.sum.value} ${is.sum.unit}`,
          because: `${relation.id}: ${relation.text}. ${is.said} is ${is.sum.value} ${is.sum.unit}, and must be ${is.broken} 0.`,
          clearedBy: [...settings.map((place) => ({ kind: 'setting' as const, place })), concession(judged)],
        },
      ];
    }),
};
