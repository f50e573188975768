import { relationsAtHand } from '../judge/relations-at-hand.ts';
import { benchWork, type Rule } from './rule.ts';

export const relationUnknown: Rule = {
  id: 'relation-unknown',
  severity: 'note',
  kinds: benchWork,
  sentence: 'Where values of the circuit are stated, all that a relation of the function needs are known.',
  basis: 'What is not known is said to be unknown; it never holds a unit.',
  clears: null,
  check: (judged) =>
    Object.keys(judged.record.circuit).length === 0
      ? []
      : relationsAtHand(judged).flatMap(({ relation, is }) =>
          'unknown' in is
            ? [
                {
                  pointer: '/circuit',
                  found: is.unknown.join(', '),
                  because: `Whether ${relation.text} is not known: ${is.unknown.join(' and ')} ${is.unknown.length === 1 ? 'is' : 'are'} missing.`,
                },
              ]
            : [],
        ),
};
