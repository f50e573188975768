/** What is stated of an instrument over time: calibrations, interim checks, and what has happened to it. */
import { z } from 'zod';
import { compare } from '../quantity/exact.ts';
import { type Quantity, quantitySchema } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { timeSchema } from '../time/instant.ts';
import { frame, isSound } from './parts.ts';

const line = z.string().trim().min(1).max(200);
const zero: Quantity = { value: '0', unit: '%' };

const deviation = quantitySchema.describe(
  '(indicated − reference)/reference in %, or indicated − reference as a difference: a wrench that reads low has a negative one and gave more torque',
);
const uncertainty = quantitySchema.describe('Expanded, in % of the reading or as a difference');
const at = quantitySchema.describe('What the instrument showed, or was set to');

type PointInput = {
  readonly at: Quantity;
  readonly asFound?: Quantity | undefined;
  readonly asLeft?: Quantity | undefined;
  readonly uncertainty?: Quantity | undefined;
};
const ofPoint = {
  error: 'this is in %, or a difference in a unit of what is shown at "at"',
  path: ['at'],
  when: isSound,
};

const calibratedPoint = z
  .strictObject({
    at,
    asFound: deviation.optional(),
    asLeft: deviation.optional(),
    uncertainty: uncertainty.optional(),
  })
  .refine(({ asFound, asLeft }) => asFound !== undefined || asLeft !== undefined, {
    error: 'a point says how far off the instrument was found, or left, or both',
    path: ['asFound'],
    when: isSound,
  })
  .refine(({ asFound, asLeft }) => [asFound, asLeft].every(isAboveNothing), {
    error: 'an instrument that is off by −100 % or more shows nothing whatever is there',
    path: ['asFound'],
    when: isSound,
  })
  .refine(isOf, ofPoint);

const happened = { reference: frame.reference, performedAt: timeSchema.describe('When it was done'), note: frame.note };

export const calibrationBody = z
  .strictObject({
    ...happened,
    document: z
      .enum(['certificate', 'declaration'])
      .describe('A calibration certificate with deviations and uncertainty, or a declaration that the type conforms'),
    number: line.optional().describe('Of the document'),
    laboratory: line.optional().describe('Kept apart, and erasable'),
    points: z.array(calibratedPoint).max(100).default([]),
    coverage: z
      .string()
      .regex(/^[1-9](\.\d{1,3})?$/, { error: 'a coverage factor is a number from 1, such as 2' })
      .default('2')
      .describe('The factor k of the expanded uncertainties'),
    due: timeSchema.optional().describe('When the next is due; without it after the interval of the instrument'),
  })
  .refine(({ document, points }) => document !== 'certificate' || points.some((one) => one.uncertainty !== undefined), {
    error: 'a certificate has at least one point with its uncertainty; without it is a declaration',
    path: ['points'],
  });
export type CalibrationBody = z.infer<typeof calibrationBody>;

export const interimCheckBody = z.strictObject({
  ...happened,
  checker: line.optional().describe("The shop's own checker"),
  points: z
    .array(
      z
        .strictObject({ at, asFound: deviation })
        .refine(({ asFound }) => isAboveNothing(asFound), {
          error: 'an instrument that is off by −100 % or more shows nothing whatever is there',
          path: ['asFound'],
          when: isSound,
        })
        .refine(isOf, ofPoint),
    )
    .min(1)
    .max(100),
});
export type InterimCheckBody = z.infer<typeof interimCheckBody>;

export const incidents = ['dropped', 'overloaded', 'adjusted', 'repaired'] as const;
export const incidentBody = z.strictObject({
  ...happened,
  what: z
    .enum(incidents)
    .describe(
      'Dropped or overloaded: under suspicion until it is found good; adjusted or repaired: what was known before is gone',
    ),
});
export type IncidentBody = z.infer<typeof incidentBody>;

export const instrumentVoidBody = z
  .strictObject({
    record: z.uuid().toLowerCase().describe('The calibration, check or incident, by the id that it was given'),
    reason: line.describe('Why it should not be there'),
  })
  .describe('Says that a calibration, check or incident was a mistake: it stays readable and counts no more');
export type InstrumentVoidBody = z.infer<typeof instrumentVoidBody>;

export const instrumentFactKinds = ['calibration', 'interim-check', 'incident'] as const;
export type InstrumentFactKind = (typeof instrumentFactKinds)[number];

/** A deviation is a part of the reading, or a difference of the same quantity. */
function isOf({ at, asFound, asLeft, uncertainty }: PointInput): boolean {
  return [asFound, asLeft, uncertainty].every(
    (one) => one === undefined || one.unit === '%' || dimensionOf(one.unit) === dimensionOf(at.unit),
  );
}

function isAboveNothing(deviation: Quantity | undefined): boolean {
  return deviation?.unit !== '%' || compare(deviation, { ...zero, value: '-100' }) > 0;
}
