/** Containments as they are posted: what is under suspicion, what is to be done, what was done, and that it is over. */
import { z } from 'zod';
import { period } from '../catalogue/edition.ts';
import { reachCriteria } from '../reach/criteria.ts';
import { frame } from './parts.ts';

const text = z.string().trim().min(1).max(2000);

export const containmentSeverities = ['stop', 'inspect', 'inform'] as const;
export const progressSteps = ['secured', 'inspected', 'cleared', 'converted', 'scrapped'] as const;

export const containmentBody = z.strictObject({
  reference: frame.reference,
  criteria: reachCriteria.describe('What is under suspicion, as GET /v1/reach is asked'),
  reason: text.describe('Why; whoever worked on a unit that it reaches reads it too'),
  severity: z
    .enum(containmentSeverities)
    .describe(
      'stop: the units are held; inspect: an inspection of them is due; inform: it is said to who worked on them',
    ),
  instruction: text.describe('What is to be done; whoever looks at a unit that is stopped or to be inspected reads it'),
  dueWithin: period.optional().describe('By when each unit should be done, such as P30D'),
});
export type ContainmentBody = z.infer<typeof containmentBody>;

/** Who did it is kept apart, because it names a person. */
export const progressBody = z.strictObject({
  reference: frame.reference,
  unit: z.uuid().toLowerCase().describe('The unit, by the id that its reach has'),
  step: z
    .enum(progressSteps)
    .describe(
      'secured: it is where nobody uses it; inspected: it was looked at; cleared: nothing is wrong with it; converted: what was wrong is out of it; scrapped: it is not used again. The last step counts',
    ),
  record: z.uuid().toLowerCase().optional().describe('The record of the work, where there is one'),
  by: text.optional().describe('Who did it; kept apart and erasable'),
  note: frame.note,
});
export type ProgressBody = z.infer<typeof progressBody>;

export const liftBody = z.strictObject({
  reference: frame.reference,
  reason: text.describe('Why; whoever worked on a unit that it reached reads it too'),
});
export type LiftBody = z.infer<typeof liftBody>;
