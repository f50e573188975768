/** What a distributor states of its shops, people, instruments and lots. */
import { z } from 'zod';
import { id } from '../catalogue/edition.ts';
import { compare } from '../quantity/exact.ts';
import { type Quantity, quantitySchema } from '../quantity/quantity.ts';
import { dimensionOf } from '../quantity/unit.ts';
import { timeSchema } from '../time/instant.ts';
import { frame, isSound, lotName, ownId } from './parts.ts';

const line = z.string().trim().min(1).max(200);

export const shopBody = z.strictObject({ name: line });
export type ShopBody = z.infer<typeof shopBody>;

export const technicianBody = z.strictObject({
  name: line.optional().describe('Kept apart from records, and erasable'),
  subject: line.optional().describe('The token subject of this person: proves that a disposition is not by the doer'),
});
export type TechnicianBody = z.infer<typeof technicianBody>;

export const erasureBody = z.strictObject({
  erase: z
    .enum(['name', 'everything'])
    .describe('name: the name alone; everything: also the own id and the token subject, for good'),
  note: frame.note,
});
export type ErasureBody = z.infer<typeof erasureBody>;

export const instrumentKinds = ['torque-wrench', 'gauge', 'stand'] as const;
export const instrumentBody = z.strictObject({
  kind: z.enum(instrumentKinds),
  how: z.enum(['set', 'indicated']).optional().describe('Of a torque wrench: set and clicks, or indicates'),
  range: z
    .strictObject({ min: quantitySchema, max: quantitySchema })
    .refine(isRange, {
      ...{ error: 'the highest is of the same quantity as the lowest, and not below it', path: ['max'] },
      when: isSound,
    })
    .optional()
    .describe('What it can measure: a reading outside holds the record'),
  resolution: quantitySchema.optional(),
  class: line
    .optional()
    .describe('Of accuracy: of a torque wrench the letter of ISO 6789, of a gauge n for n % of its span'),
  permissible: quantitySchema
    .optional()
    .describe('What it may deviate by, in % of the reading or as a difference; counts before its class'),
  dispersion: quantitySchema
    .optional()
    .describe('Of a tool that is set and clicks: the standard deviation of what arrives, in % or as a difference'),
  interval: z
    .string()
    .regex(/^P[1-9]\d{0,3}[YMD]$/, { error: 'an interval is written as P12M, P1Y or P90D' })
    .optional()
    .describe('Between calibrations, where a document names no date; without it a year'),
  awaited: line.optional().describe('That a calibration is on its way, and what is known of it'),
  serial: line.optional(),
  shop: ownId.optional().describe('Where it is kept'),
});
export type InstrumentBody = z.infer<typeof instrumentBody>;

/** Two quantities can't be compared, and between a higher and a lower lies nothing. */
function isRange({ min, max }: { min: Quantity; max: Quantity }): boolean {
  return dimensionOf(min.unit) === dimensionOf(max.unit) && compare(min, max) <= 0;
}

export const lotBody = z.strictObject({
  part: id.describe('The kit part or the element that the lot is of'),
  madeAt: timeSchema.optional().describe('When it was made: shelf life runs from then'),
  components: z
    .array(z.strictObject({ element: id, lot: lotName.describe('The lot that the pieces in the kits are from') }))
    .max(200)
    .optional()
    .describe('Of a lot of kits: from which lots the elements in them are'),
  withdrawn: z
    .strictObject({ from: timeSchema, why: z.string().trim().min(1).max(500) })
    .optional()
    .describe('From when nothing of it may be used any more, and why'),
});
export type LotBody = z.infer<typeof lotBody>;
