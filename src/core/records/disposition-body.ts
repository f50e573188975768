/** What is decided about a record that holds its unit, as callers post it. */
import { z } from 'zod';
import { quantitySchema } from '../quantity/quantity.ts';
import { type Dimension, dimensionOf } from '../quantity/unit.ts';
import { exactTimeSchema, timeSchema } from '../time/instant.ts';
import { frame, isSound } from './parts.ts';

/** What can be limited by a number, with what it is measured as. */
export const limitedDimensions = {
  pressure: 'pressure',
  flow: 'flow',
  speed: 'rotational speed',
  'shaft-torque': 'torque',
  'oil-temperature': 'temperature',
} as const satisfies Record<string, Dimension>;

const limited = z.enum(Object.keys(limitedDimensions) as (keyof typeof limitedDimensions)[]);
const limit = z
  .union([
    z
      .strictObject({ what: limited, atMost: quantitySchema })
      .refine(({ what, atMost }) => dimensionOf(atMost.unit) === limitedDimensions[what], {
        error: 'this unit measures something else',
        path: ['atMost', 'unit'],
        when: isSound,
      }),
    z.strictObject({ text: z.string().trim().min(1).max(500) }),
  ])
  .describe('A number, which whoever has the unit at hand reads; or words, which your own people read');

const onlyConcession = (error: string, path: 'limits' | 'expires') => ({ error, path: [path], when: isSound });

export const dispositionBody = z
  .strictObject({
    reference: frame.reference,
    performedAt: timeSchema,
    decision: z
      .enum(['rework', 'concession', 'scrap'])
      .describe(
        'rework: it is made good, and held until then; concession: leave to use it as it is; scrap: held for good',
      ),
    reason: z.string().trim().min(1).max(2000),
    limits: z
      .array(limit)
      .min(1)
      .max(20)
      .optional()
      .describe('Of a concession: within which it may be used; each read of the unit shows them'),
    expires: exactTimeSchema
      .optional()
      .describe('Of a concession: from this instant on it holds the unit again; left out: it has no end'),
    note: frame.note,
  })
  .refine(
    ({ decision, limits }) => decision === 'concession' || limits === undefined,
    onlyConcession('only a concession has limits', 'limits'),
  )
  .refine(
    ({ decision, expires }) => decision === 'concession' || expires === undefined,
    onlyConcession('only a concession has an end', 'expires'),
  );
export type DispositionBody = z.infer<typeof dispositionBody>;
