/** Answers about leave to work: authorisations of people, approvals of shops. */
import { z } from 'zod';
import { tasks } from '../../core/catalogue/edition.ts';
import { digest, instant, list, pageOf, uuid } from './common-shapes.ts';
import { checkedOf, id, receipt } from './record-shapes.ts';

const task = z.enum(tasks);
const ids = list(z.string()).optional();
const until = instant.nullable().meta({
  description: 'Up to, but without this instant, with a withdrawal reckoned in; null: until it is withdrawn',
});
const withdrawnFrom = instant.nullable().meta({ description: 'From when on it is withdrawn, where it is' });
const state = z.enum(['to come', 'in force', 'expired', 'withdrawn']).meta({ description: 'At the asked time' });
const limits = { makers: ids, series: ids, bodies: ids, functions: ids };
const person = uuid.meta({ description: 'The id by which records name this person' });

export const authorisationOutcome = z
  .strictObject({ id, technician: person, tasks: list(task), receipt })
  .meta({ id: 'AuthorisationOutcome', description: 'The authorisation as kept' });
export const authorisationChecked = checkedOf(authorisationOutcome, 'AuthorisationChecked');
export const authorisationWithdrawn = z
  .strictObject({ id, authorisation: uuid, receipt })
  .meta({ id: 'AuthorisationWithdrawn', description: 'The withdrawal as kept' });
export const authorisationWithdrawalChecked = checkedOf(authorisationWithdrawn, 'AuthorisationWithdrawalChecked');
export const approvalOutcome = z
  .strictObject({ id, distributor: z.string(), shop: z.string(), receipt })
  .meta({ id: 'ApprovalOutcome', description: 'The approval as kept' });
export const approvalChecked = checkedOf(approvalOutcome, 'ApprovalChecked');
export const approvalWithdrawn = z
  .strictObject({ id, approval: uuid, receipt })
  .meta({ id: 'ApprovalWithdrawn', description: 'The withdrawal as kept' });
export const approvalWithdrawalChecked = checkedOf(approvalWithdrawn, 'ApprovalWithdrawalChecked');

export const erasureOutcome = z
  .strictObject({ id, technician: person, erase: z.enum(['name', 'everything']), receipt })
  .meta({ id: 'ErasureOutcome', description: 'What is forgotten' });
export const erasureChecked = checkedOf(erasureOutcome, 'ErasureChecked');

const authorisation = z
  .strictObject({
    ...{
      authorisation: uuid,
      reference: z.string(),
      tasks: list(task),
      ...limits,
      from: instant,
      until,
      withdrawnFrom,
    },
    state,
    givenBy: z.string().nullable(),
    attachment: digest.nullable(),
  })
  .meta({ id: 'Authorisation', description: 'What a person may do, on what and when; a list left out limits nothing' });
export const technicianAnswer = z
  .strictObject({
    id: z.string().meta({ description: "The shop's own id" }),
    technician: person,
    version: z.number().meta({ type: 'integer', minimum: 1 }),
    record: uuid.meta({ description: 'The fact that states this version' }),
    name: z.string().nullable(),
    subject: z.string().nullable(),
    at: instant.meta({ description: 'The time for which the states are given' }),
    authorisations: list(authorisation),
  })
  .meta({ id: 'TechnicianWhole', description: 'A person, with every authorisation' });

const runningOut = z
  .strictObject({
    authorisation: uuid,
    technician: z.string().meta({ description: "The shop's own id" }),
    name: z.string().nullable(),
    ...{ tasks: list(task), ...limits, from: instant, until: instant },
    daysLeft: z.number().meta({ type: 'integer', description: 'Whole days, rounded down: below 0 it is over' }),
  })
  .meta({ id: 'AuthorisationRunningOut' });
export const runningOutPage = pageOf(runningOut, 'The soonest first');

const approval = z
  .strictObject({
    ...{ approval: uuid, maker: z.string(), distributor: z.string(), shop: z.string(), series: ids },
    ...{ from: instant, until, state, reason: z.string() },
    withdrawn: z.strictObject({ from: instant, reason: z.string() }).nullable(),
  })
  .meta({ id: 'Approval', description: 'A shop that a maker has approved, and whether that is in force' });
export const approvalPage = pageOf(approval, 'In the order in which they were recorded');
