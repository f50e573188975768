/** The judgement on a record: the verdict on each reading, and what later facts made of it. */
import { z } from 'zod';
import {
  described,
  finding,
  instant,
  interval,
  list,
  pageOf,
  quantity,
  settledFields,
  status,
  unitName,
  uuid,
} from './common-shapes.ts';

const conformity = z.enum(['conforms', 'undecided', 'outside']).meta({
  id: 'Conformity',
  description:
    'undecided: as well as can be told with this instrument the limit is met, or missed, but not so that it could be relied on',
});
const conformityOrNone = conformity.nullable().meta({ description: 'Null: there was none, or there is none any more' });

const limit = z
  .strictObject({
    ...quantity.shape,
    from: z.string().optional().meta({ description: 'Of a setting: what it comes from, in words' }),
  })
  .meta({ id: 'Limit', description: 'A limit belongs to what is allowed' });
const probability = z
  .number()
  .nullable()
  .meta({ minimum: 0, maximum: 1, description: 'Of conformity (JCGM 106), to six decimals; null: not known' });

const fitness = z
  .strictObject({
    ratio: z
      .number()
      .nullable()
      .meta({ description: 'T/(2U): half of what lies between the limits over the expanded uncertainty' }),
    fit: z.boolean().nullable().meta({ description: 'The ratio is at least 4; null: it can not be told' }),
    partOfRange: z.number().nullable().meta({ description: 'The reading over the most that the instrument shows' }),
  })
  .meta({ id: 'Fitness', description: 'Whether the instrument is fine enough for the requirement' });

/** Records of earlier releases have the first members alone. */
const verdict = z
  .strictObject({
    pointer: z.string().meta({ description: 'JSON pointer (RFC 6901) to the reading in the body as sent' }),
    of: z.enum(['torque', 'setting']),
    place: z.string().meta({ description: 'The joint or setting' }),
    reading: quantity,
    min: limit.nullable(),
    max: limit.nullable(),
    rule: z.enum(['simple', 'guard-band']).meta({
      description:
        'simple: the estimate decides, limits included; guard-band: it must lie within the limits by the guard band',
    }),
    verdict: conformity,
    instrument: uuid
      .nullable()
      .meta({ description: 'The version of the instrument that was in force, as a fact; null: not known' }),
    estimate: quantity.optional().meta({
      description: 'What was there, as well as can be told: corrected by the certificate, at the end of an extension',
    }),
    uncertainty: quantity
      .nullable()
      .optional()
      .meta({ description: 'Standard uncertainty of the estimate; null: nobody has said how true the instrument is' }),
    guardBand: quantity.nullable().optional().meta({
      description: 'By how much the estimate must lie within the limits; null: none is asked for, or not known',
    }),
    probability: probability.optional(),
    basis: z
      .enum(['calibration', 'stated', 'type-and-class'])
      .nullable()
      .optional()
      .meta({ description: 'What the uncertainty is taken from; null: nothing is known' }),
    fitness: fitness.optional(),
    linear: z.strictObject({ verdict: conformity, estimate: quantity, probability }).nullable().optional().meta({
      description:
        'Where the instrument was later found worse than it may be: as if it had drifted evenly. The verdict beside it is of the worst',
    }),
    calibration: uuid
      .nullable()
      .optional()
      .meta({ description: 'The calibration that was in force, as a fact; null: none is known' }),
    foundBy: uuid
      .nullable()
      .optional()
      .meta({ description: 'The examination that found the instrument worse than it may be, as a fact' }),
  })
  .meta({
    id: 'Verdict',
    description:
      'The verdict on one reading, by the rule that is named, with what was known when it was given. What an earlier release did not reckon is not in it',
  });

const change = z
  .strictObject({
    pointer: z.string(),
    of: z.string(),
    place: z.string(),
    was: conformityOrNone,
    is: conformityOrNone,
  })
  .meta({ id: 'VerdictChange', description: 'A reading whose verdict changed, old and new' });

/** What each kind of fact adds is passed on as it was kept. */
export const judgementKept = described<unknown>(
  z
    .looseObject({
      status: status.optional(),
      findings: list(finding).optional(),
      verdicts: list(verdict)
        .optional()
        .meta({ description: 'One for each reading that has limits, in the order of the body' }),
      was: status.optional().meta({ description: 'Of a later judgement: the status before it' }),
      changes: list(change)
        .optional()
        .meta({ description: 'Of a later judgement, whose statement names the record and the cause' }),
    })
    .meta({ id: 'Judgement', description: 'Status, findings and verdicts as judged when it was recorded' }),
);

const judgedAgain = z
  .strictObject({
    id: uuid,
    cause: uuid,
    recordedAt: instant,
    record: uuid,
    kind: z.string().meta({ description: 'Of the record' }),
    reference: z.string(),
    performed: interval,
    units: list(
      z.strictObject({
        unit: uuid,
        kind: z.enum(['pump', 'control']).nullable(),
        name: unitName,
        status: status.meta({ description: 'As it is now' }),
        mountedWith: z
          .strictObject({ unit: uuid, name: unitName, since: instant })
          .nullable()
          .meta({ description: 'The pump that the control is on now, or the control on the pump' }),
      }),
    ),
    status: z
      .strictObject({ was: status.nullable(), is: status.nullable() })
      .meta({ description: 'Of the record, before and after; null: a judgement of an earlier release did not say' }),
    verdicts: list(change).meta({ description: 'Readings whose verdict changed, old and new' }),
  })
  .meta({ id: 'JudgedAgain', description: 'A record judged again because of a later fact' });
export const judgementPage = pageOf(judgedAgain, 'Records judged again, in the order in which that was done').extend(
  settledFields,
);
