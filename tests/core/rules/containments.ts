/** What is under suspicion is kept from use until it is cleared (common practice, no published source). */
import { conversionOnPump } from '../../support/cases.ts';
import type { RuleTests } from './rule-test.ts';

const clear = { kind: 'containment', place: 'c-1/scrapped' } as const;
const stopped = (severity: 'hold' | 'due', more: object = {}) => [
  { rule: 'scrapped', severity, pointer: '/step', clearedBy: [clear], ...more },
];

export const containments: RuleTests = {
  contained: [
    {
      says: 'holds work on a control that a containment stops, with what is to be done',
      on: conversionOnPump,
      at: '/control/events/0/effect/opens',
      wrong: stopped('hold', { instruction: 'take the orifice out' }),
      right: stopped('due'),
      gives: [
        {
          pointer: '/control',
          found: 'c-1/scrapped',
          because: 'K-20931 is under a containment: take the orifice out.',
          clearedBy: [clear],
        },
      ],
    },
    {
      says: 'holds work on a pump that one stops',
      on: conversionOnPump,
      at: '/pump/events/0/effect/opens',
      wrong: stopped('hold'),
      right: undefined,
      gives: [{ pointer: '/pump', because: 'P-4410 is under a containment.', clearedBy: [clear] }],
    },
  ],
};
