/** The answer to a trace. */
import { z } from 'zod';
import { bearings, topics } from '../../core/trace/points.ts';
import { claimAnswer } from './claim-shapes.ts';
import {
  asKept,
  basis,
  content,
  elements,
  instant,
  interval,
  list,
  quantity,
  status,
  unitName,
  uuid,
} from './common-shapes.ts';

const nullable = (shape: z.ZodType) => shape.nullable();
const unknownOr = (description: string) =>
  z
    .union([z.string(), z.strictObject({ unknown: z.string() })])
    .nullable()
    .meta({ description });
const lot = unknownOr('MAKER/NUMBER, or why it is not known; null: nothing was said of a lot');
const record = uuid.nullable().meta({ description: 'Null: of somebody whose records are not yours to see' });
const technician = unknownOr('By the id that the service gave, or why it is not known');
const piece = z.strictObject({
  element: z.union([z.string(), z.strictObject({ unknown: z.string() })]),
  quantity: z.number(),
  lot,
  serial: z.string().nullable(),
});
const by = {
  kind: z.string().nullable(),
  performed: nullable(interval),
  distributor: z.string().nullable(),
  shop: z.string().nullable(),
  technician,
  edition: z.string().nullable(),
  reference: z.string().nullable(),
  entry: z.string().nullable().meta({ description: 'The leaf of the record, as its receipt has it' }),
};
const station = z
  .strictObject({
    ...{ unit: uuid, station: z.string(), elements, basis },
    origin: z
      .strictObject({ record, ...by, pieces: list(piece) })
      .meta({ description: 'The record that put it there, or first saw it there' }),
    changedUnrecorded: z
      .strictObject({ before: instant, found: content })
      .nullable()
      .meta({ description: 'Found otherwise before then although nothing recorded changed it' }),
  })
  .meta({ id: 'StationThen' });

const verdict = asKept('As the record was judged; its members are those of Verdict').nullable();
const reading = z
  .strictObject({
    ...{ of: z.enum(['torque', 'setting']), place: z.string(), record: uuid, readings: list(quantity) },
    conditions: z.record(z.string(), quantity),
    by: technician,
    at: instant,
    verdictThen: verdict,
    verdictNow: verdict,
    instrument: z.union([z.string(), z.strictObject({ unknown: z.string() })]),
    standing: z
      .strictObject({
        calibrationThen: uuid.nullable().meta({ description: 'In force when it was judged first, as a fact' }),
        calibration: uuid.nullable().meta({ description: 'In force at the reading, by what is known now' }),
        due: instant.nullable(),
        ...{ overdue: z.boolean(), neverCalibrated: z.boolean() },
        suspect: uuid.nullable().meta({ description: 'The incident since which it was not found good' }),
        foundWorse: uuid.nullable().meta({ description: 'The later examination that found it worse than it may be' }),
      })
      .nullable()
      .meta({
        description: 'How the instrument stood at the reading, by what is known now; null: nothing is known of it',
      }),
  })
  .meta({ id: 'ReadingThen', description: 'The last reading of a joint or setting by then' });

const period = z.strictObject({ unit: uuid, name: unitName, from: instant, to: nullable(instant) });
const head = z
  .strictObject({
    ...{ unit: uuid, name: unitName, born: asKept('What it is').nullable(), function: z.string().nullable(), status },
    hours: asKept('As last stated').nullable(),
    retired: asKept('Since when it is out of use').nullable(),
    mountings: list(period).meta({ description: 'With what it was mounted, from when to when; null: still then' }),
  })
  .nullable();
const leave = list(z.strictObject({ rule: z.string(), severity: z.string(), because: z.string() }));
const work = z
  .strictObject({
    ...{ record: uuid, recordedAt: instant, ...by },
    ...{ statusThen: z.string().nullable(), statusNow: z.string().nullable() },
    cause: uuid.nullable().meta({ description: 'The fact that made it be judged again' }),
    leaveThen: leave.meta({ description: 'What was said of authorisations and approvals when it was recorded' }),
    leaveNow: leave,
  })
  .meta({ id: 'WorkThen' });

export const point = z
  .strictObject({
    topic: z.enum(topics),
    place: z.string().nullable(),
    bears: z.enum(bearings),
    basis: z.string().meta({ description: 'In a sentence, with the numbers' }),
    record: uuid.nullable(),
  })
  .meta({ id: 'Point', description: 'What the records prove of a point; never whose fault anything is' });

export const traceShape = {
  asked: z.strictObject({ unit: uuid, performed: nullable(instant), known: nullable(instant), horizon: instant }),
  pump: head.meta({ description: 'Null: the control was on none' }),
  control: head.meta({ description: 'That sat on the pump then; null: none did' }),
  stations: list(station),
  set: list(z.strictObject({ setting: z.string(), ...quantity.shape, record: uuid })).meta({
    description: 'The settings of the pair, with the record that last read each',
  }),
  settings: list(reading).meta({ description: 'Settings as records read them, with their verdicts' }),
  torques: list(reading),
  seals: list(z.strictObject({ joint: z.string(), record: uuid, ...piece.shape })),
  checks: list(z.strictObject({ check: z.string(), result: z.string(), record: uuid, at: instant })),
  findings: list(
    z.strictObject({
      ...{ unit: uuid, record: uuid, rule: z.string(), severity: z.enum(['hold', 'due']), pointer: z.string() },
    }),
  ).meta({ description: 'What held the units then, or was due' }),
  records: list(work).meta({ description: 'Whatever was done by then, in the order of work' }),
  dispositions: list(
    z.strictObject({
      ...{ id: uuid, record: uuid, decision: z.string(), reason: z.string(), performed: instant, recordedAt: instant },
      after: z.boolean().meta({ description: 'Decided after the day asked for' }),
    }),
  ),
  containments: list(
    z.strictObject({
      ...{ unit: uuid, containment: uuid, severity: z.enum(['hold', 'due']), instruction: z.string().nullable() },
      from: instant,
      to: nullable(instant).meta({ description: 'Null: it still is under it' }),
      after: z.boolean().meta({ description: 'It came under it after the day asked for' }),
    }),
  ).meta({ description: 'Under which containments the units were' }),
  attempts: list(z.strictObject({ id: uuid, at: instant, kind: z.string(), rules: list(z.string()) }))
    .nullable()
    .meta({ description: 'Refused bodies that name these units; null: they are for who sent them' }),
  later: list(z.strictObject({ unit: uuid, record, kind: z.string(), performed: interval, recordedAt: instant })).meta({
    description: 'What was done after the day asked for',
  }),
  points: list(point),
};
export const traceAnswer = z
  .strictObject(traceShape)
  .meta({ id: 'Trace', description: 'What was in a unit on a day, where it came from, and how sure that is by now' });

const { status: claimStatus, part, symptom, failureMode, failed, coverage, decisions, distributor } = claimAnswer.shape;
export const claimTraceAnswer = z
  .strictObject({
    claim: z.strictObject({
      ...{ claim: uuid, distributor, status: claimStatus, part, symptom, failureMode, failed, coverage, decisions },
      said: list(
        z.strictObject({
          record: uuid,
          asFound: asKept('As stated').optional(),
          observations: asKept('As stated').optional(),
        }),
      ).meta({ description: 'What the claim and the evidence after it say was found and seen' }),
    }),
    ...traceShape,
  })
  .meta({
    id: 'ClaimTrace',
    description: 'The trace of a claimed unit on the day it failed, beside what the claim says',
  });
