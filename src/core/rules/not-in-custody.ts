import { benchWork, concession, type Rule } from './rule.ts';

export const notInCustody: Rule = {
  id: 'not-in-custody',
  severity: 'hold',
  kinds: benchWork,
  sentence: 'Where somebody has said where a unit is, work is done there.',
  basis: 'A unit that is somewhere else by the records is another unit, or came in unrecorded.',
  clears:
    'a movement that says that it came in, by whoever did the work, also when it is recorded late; or a concession',
  check: (judged) =>
    (['control', 'pump'] as const).flatMap((place) => {
      const unit = judged[place];
      if (unit?.whereabouts !== 'elsewhere') return [];
      return [
        {
          pointer: '/shop',
          // Where it is, or who has it, is not for everybody to know.
          because: `By the records ${unit.name} was not in this shop. Record when it came in.`,
          clearedBy: [{ kind: 'custody', place }, concession(judged)],
        },
      ];
    }),
};
