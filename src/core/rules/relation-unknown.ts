import { type RelationAtHand, relationsAtHand } from '../judge/relations-at-hand.ts';
import { benchWork, type Rule, type Violation } from './rule.ts';

export function unknownRelations(relations: readonly RelationAtHand[]): Violation[] {
  return relations.flatMap(({ relation, is }) =>
    'unknown' in is
      ? [
          {
            pointer: '/circuit',
            found: is.unknown.join(', '),
            because: `Whether ${relation.text} is not known: ${is.unknown.join(' and ')} ${is.unknown.length === 1 ? 'is' : 'are'} missing.`,
          },
        ]
      : [],
  );
}

export const relationUnknown: Rule = {
  id: 'relation-unknown',
  severity: 'note',
  kinds: benchWork,
  sentence: 'Where values of the circuit are stated, all that a relation of the function needs are known.',
  basis: 'What is not known is said to be unknown; it never holds a unit.',
  clears: null,
  check: (judged) => (Object.keys(judged.record.circuit).length === 0 ? [] : unknownRelations(relationsAtHand(judged))),
};
