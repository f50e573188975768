/** Leave to work, as it is given and withdrawn: authorisations of people, and the maker's approvals of shops. */
import { z } from 'zod';
import { id, tasks } from '../catalogue/edition.ts';
import { exactTimeSchema, parseTime } from '../time/instant.ts';
import { attachmentDigest } from './attachment.ts';
import { frame, isSound, ownId, slug } from './parts.ts';

const text = z.string().trim().min(1).max(2000);
const listed = z.array(id).min(1).max(100);

const validity = {
  from: exactTimeSchema.describe('From this instant on'),
  until: exactTimeSchema.optional().describe('Up to, but without this instant; left out: until it is withdrawn'),
};
const isTime = ({ from, until }: { from: string; until?: string | undefined }) =>
  until === undefined || parseTime(from).from < parseTime(until).from;
const isTimeError = { error: 'it ends after it begins', path: ['until'], when: isSound };

/** `givenBy` and the note are kept apart, because they can name people. */
export const authorisationBody = z
  .strictObject({
    reference: frame.reference,
    tasks: z.array(z.enum(tasks)).min(1).max(tasks.length).describe('What the person may do'),
    makers: z.array(slug).min(1).max(100).optional().describe('Only on units of these makers'),
    series: listed.optional().describe('Only on these series'),
    bodies: listed.optional().describe('Only on these bodies'),
    functions: listed.optional().describe('Only where these functions are left'),
    ...validity,
    givenBy: text.optional().describe('Who gave it; kept apart and erasable'),
    attachment: attachmentDigest.optional().describe('The paper, as POST /v1/attachments named it'),
    note: frame.note,
  })
  .refine(isTime, isTimeError);
export type AuthorisationBody = z.infer<typeof authorisationBody>;

export const authorisationWithdrawalBody = z.strictObject({
  reference: frame.reference,
  from: exactTimeSchema.describe('From this instant on it counts no more; what was done before stays authorised'),
  reason: text.optional().describe('Why; kept apart and erasable'),
});
export type AuthorisationWithdrawalBody = z.infer<typeof authorisationWithdrawalBody>;

export const approvalBody = z
  .strictObject({
    reference: frame.reference,
    distributor: slug.describe('Whose shop it is'),
    shop: ownId.describe('By the id that the distributor gave it'),
    series: listed.optional().describe('Only for these series'),
    ...validity,
    reason: text.describe('Why; the distributor reads it too'),
  })
  .refine(isTime, isTimeError);
export type ApprovalBody = z.infer<typeof approvalBody>;

export const approvalWithdrawalBody = z.strictObject({
  reference: frame.reference,
  from: exactTimeSchema.describe('From this instant on the shop is approved no more'),
  reason: text.describe('Why; the distributor reads it too'),
});
export type ApprovalWithdrawalBody = z.infer<typeof approvalWithdrawalBody>;
