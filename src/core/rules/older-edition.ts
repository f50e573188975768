import { benchWork, type Rule } from './rule.ts';

export const olderEdition: Rule = {
  id: 'older-edition',
  severity: 'note',
  kinds: ['registration', ...benchWork],
  sentence: 'Work to an edition when a newer one was in effect is noted.',
  basis: 'It is judged by the edition it names; the newer one may say otherwise.',
  clears: null,
  check: ({ edition, newerEdition }) =>
    newerEdition === null
      ? []
      : [
          {
            pointer: '/edition',
            expected: newerEdition,
            found: edition.edition,
            because: `Edition ${newerEdition} was in effect when the work was done.`,
          },
        ],
};
