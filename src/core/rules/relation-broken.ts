import { type RelationAtHand, relationsAtHand } from '../judge/relations-at-hand.ts';
import type { Clear } from './finding.ts';
import { benchWork, concession, type Rule, type Violation } from './rule.ts';

export function brokenRelations(
  relations: readonly RelationAtHand[],
  pointer: string,
  judged: Parameters<typeof concession>[0],
): Violation[] {
  return relations.flatMap(({ relation, is, earlier }) => {
    if ('unknown' in is || is.broken === null) return [];
    const because = `${relation.id}: ${relation.text}. ${is.said} is ${is.sum.value} ${is.sum.unit}, and must be ${is.broken} 0.`;
    const clears = relation.sum.flatMap((term): Clear[] => {
      if ('setting' in term) return [{ kind: 'setting', place: term.setting }];
      return 'circuit' in term ? [{ kind: 'circuit', place: term.circuit }] : [];
    });
    return [
      {
        pointer,
        expected: `${is.broken} 0`,
        found: `${is.sum.value} ${is.sum.unit}`,
        because: earlier.length === 0 ? because : `${because} Stated earlier: ${earlier.join(', ')}.`,
        clearedBy: [...clears, concession(judged)],
      },
    ];
  });
}

export const relationBroken: Rule = {
  id: 'relation-broken',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Settings keep what the function demands of them together, with the pump and the circuit as far as known.',
  basis: 'A relief below the limiter, or a signal above it, makes a circuit act otherwise than it was built to.',
  clears:
    'a later record with one of the settings within bounds, or with a value of the circuit with which it holds; or a concession',
  check: (judged) => brokenRelations(relationsAtHand(judged), '/settings', judged),
};
