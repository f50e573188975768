import type { DispositionCase } from '../judge/disposition-case.ts';
import type { RuleOn } from './rule.ts';

export const scrapped: RuleOn<DispositionCase> = {
  id: 'scrapped',
  severity: 'hold',
  sentence: 'A unit that was decided to be scrap is not used again.',
  basis:
    'Scrap precludes the use that was intended (ISO 9000:2015, 3.12.10, from memory): no work and no concession brings it back.',
  clears: 'a correction that makes the decision void',
  check: ({ body, fact }) =>
    body.decision === 'scrap'
      ? [
          {
            pointer: '/decision',
            because: 'It was decided that this is scrap.',
            clearedBy: [{ kind: 'correction', place: fact }],
          },
        ]
      : [],
};
