/** What the maker's people decide about a claim, as callers post it. */
import { z } from 'zod';
import { frame, isSound } from '../records/parts.ts';
import { timeSchema } from '../time/instant.ts';

export const decisions = ['accepted', 'declined', 'goodwill', 'more-evidence'] as const;
export type ClaimDecision = (typeof decisions)[number];

const text = z.string().trim().min(1).max(2000);

/** An amount in a currency: a decimal as text, never negative, and the code of ISO 4217. */
export const cost = z.strictObject({
  amount: z.string().regex(/^(0|[1-9]\d{0,11})(\.\d{1,4})?$/, {
    error: 'write an amount as decimal text, such as "1240.00"',
  }),
  currency: z.string().regex(/^[A-Z]{3}$/, { error: 'write the three letters of ISO 4217, such as EUR' }),
});
export type Cost = z.infer<typeof cost>;

export const claimDecisionBody = z
  .strictObject({
    reference: frame.reference.describe("The maker's own id of this decision, unique for ever"),
    performedAt: timeSchema.describe('When it was decided'),
    decision: z
      .enum(decisions)
      .describe('goodwill: taken over without owing it; more-evidence: not decided until what is asked for comes'),
    reasons: text.describe('Why; the distributor reads it too'),
    cost: cost.optional().describe('What the maker bears'),
    asks: z.array(text).min(1).max(50).optional().describe('With more-evidence: what is asked for'),
  })
  .refine(({ decision, asks }) => (decision === 'more-evidence') === (asks !== undefined), {
    error: 'say what is asked for with more-evidence, and nothing with another decision',
    path: ['asks'],
    when: isSound,
  });
export type ClaimDecisionBody = z.infer<typeof claimDecisionBody>;
