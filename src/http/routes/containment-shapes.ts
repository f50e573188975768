/** Answers about containments. */
import { z } from 'zod';
import { reachCriteria } from '../../core/reach/criteria.ts';
import { containmentSeverities, progressSteps } from '../../core/records/containment-bodies.ts';
import { described, instant, pageOf, uuid } from './common-shapes.ts';
import { reachItem } from './reach-routes.ts';
import { checkedOf, id, receipt } from './record-shapes.ts';

const number = z.number().meta({ type: 'integer', minimum: 0 });
const severity = z.enum(containmentSeverities);

const containmentOutcome = z
  .strictObject({
    id,
    severity,
    reached: number.meta({ description: 'Units that it reached when it was issued' }),
    receipt,
  })
  .meta({ id: 'ContainmentOutcome', description: 'The containment as kept' });
const progressOutcome = z
  .strictObject({ id, containment: uuid, unit: uuid, step: z.enum(progressSteps), receipt })
  .meta({ id: 'ContainmentProgressOutcome', description: 'What was done about a unit, as kept' });
const liftOutcome = z
  .strictObject({ id, containment: uuid, receipt })
  .meta({ id: 'ContainmentLiftOutcome', description: 'The lifting as kept' });
export const containmentOutcomes = {
  containment: { 200: checkedOf(containmentOutcome, 'ContainmentChecked'), 201: containmentOutcome },
  progress: { 200: checkedOf(progressOutcome, 'ContainmentProgressChecked'), 201: progressOutcome },
  lift: { 200: checkedOf(liftOutcome, 'ContainmentLiftChecked'), 201: liftOutcome },
};

export const containmentAnswer = z
  .strictObject({
    containment: uuid,
    issuedBy: z.string().meta({ description: 'The maker or distributor' }),
    issuedAt: instant,
    ...{ reference: z.string(), severity, reason: z.string(), instruction: z.string() },
    dueWithin: z.string().nullable().meta({ description: 'By when each unit should be done' }),
    criteria: described<object>(reachCriteria).nullable().meta({ description: 'For the people of its issuer' }),
    reachedAtIssue: number.nullable().meta({ description: 'Units; for the people of its issuer' }),
    lifted: z
      .strictObject({
        ...{ at: instant, reason: z.string() },
        by: z.string().nullable().meta({ description: 'By the token; for the people of its issuer' }),
      })
      .nullable(),
  })
  .meta({ id: 'Containment', description: 'What is under suspicion, and what is to be done about it' });
export const containmentPage = pageOf(containmentAnswer, 'In the order in which they were issued');

export const unitContained = z
  .strictObject({
    ...reachItem.shape,
    atIssue: z.boolean().meta({ description: 'Whether it was reached when the containment was issued' }),
    added: z
      .strictObject({ record: uuid, recordedAt: instant })
      .nullable()
      .meta({ description: 'The record that brought it in since, and when that was found; null: it was in at issue' }),
    progress: z
      .strictObject({ step: z.enum(progressSteps), recordedAt: instant })
      .nullable()
      .meta({ description: 'The last step that was told' }),
    done: z.boolean().meta({ description: 'Whether nothing more is to be done' }),
    dueBy: instant.nullable(),
    overdue: z.boolean(),
  })
  .meta({ id: 'UnitContained', description: 'A unit under a containment, as it stands now' });
