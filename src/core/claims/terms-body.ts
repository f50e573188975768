/**
 * A maker's terms of warranty, as its people state them. Each part has limits of its own, and all of them must hold: so
 * "24 months from start-up, at most 30 from delivery, at most 4000 h" is three limits.
 */
import { z } from 'zod';
import { isSound } from '../records/parts.ts';
import { exactTimeSchema, parseTime } from '../time/instant.ts';
import { type ClaimedPart, claimedParts } from './claim-body.ts';

const line = z.string().trim().min(1).max(500);
const months = z.int().min(1).max(1200);
const hours = z.int().min(1).max(1_000_000);

const isLater = (end: number | undefined, full: number) => end === undefined || end > full;
const endsLater = { error: 'it ends after what is covered in full', path: ['proRataTo'], when: isSound };

const monthsLimit = z
  .strictObject({
    months: months.describe('Covered in full for so many calendar months'),
    from: z.enum(['delivery', 'start-up']),
    proRataTo: months.optional().describe('Then by a share that falls evenly to nothing at the end of so many months'),
  })
  .refine((limit) => isLater(limit.proRataTo, limit.months), endsLater);
const hoursLimit = z
  .strictObject({
    hours: hours.describe('Covered in full up to so many running hours'),
    proRataTo: hours.optional().describe('Then by a share that falls evenly to nothing at so many hours'),
  })
  .refine((limit) => isLater(limit.proRataTo, limit.hours), endsLater);
export type MonthsLimit = z.infer<typeof monthsLimit>;
export type HoursLimit = z.infer<typeof hoursLimit>;
export type Limit = MonthsLimit | HoursLimit;

const limits = z
  .array(z.union([monthsLimit, hoursLimit]))
  .min(1)
  .max(10);

export const termsBody = z
  .strictObject({
    text: line.optional().describe('What they are called'),
    validFrom: exactTimeSchema.describe('For units that were delivered from this instant on'),
    validUntil: exactTimeSchema.optional().describe('Up to, but without this instant'),
    parts: z
      .strictObject(Object.fromEntries(claimedParts.map((part) => [part, limits.optional()])) as Parts)
      .refine((parts) => Object.values(parts).some((one) => one !== undefined), {
        error: 'state the limits of one part at least',
        path: [],
        when: isSound,
      })
      .describe('What is not stated is not covered by these terms'),
  })
  .refine(
    ({ validFrom, validUntil }) => validUntil === undefined || parseTime(validFrom).from < parseTime(validUntil).from,
    {
      ...{ error: 'they end after they begin', path: ['validUntil'] },
      when: isSound,
    },
  );
type Parts = Record<ClaimedPart, z.ZodOptional<typeof limits>>;
export type TermsBody = z.infer<typeof termsBody>;
