/** A column in the place of a value, and how its cells are read. */
import { z } from 'zod';
import { units } from '../../core/quantity/unit.ts';
import { isDateFormat, isZone } from './read-date.ts';

export const sourceSchema = z.strictObject({
  column: z.string().min(1).max(500).describe('Its header, or its letter as [C]'),
  lookup: z.string().optional().describe('The list in "lookups" that has its words'),
  number: z.enum([',', '.']).optional().describe('A count or another plain number, with this decimal sign'),
  quantity: z
    .strictObject({
      decimal: z
        .enum([',', '.'])
        .optional()
        .describe('The decimal sign of the column; the one of the mapping if left out'),
      unit: z.enum(units).optional().describe('Of a cell that names none'),
      units: z.record(z.string().min(1), z.enum(units)).optional().describe('How cells write units: {"Nm": "N.m"}'),
    })
    .optional()
    .describe('A measured value'),
  date: z
    .union([z.string(), z.array(z.string()).min(1)])
    .refine((formats) => [formats].flat().every(isDateFormat), {
      error: 'write formats such as dd.MM.yyyy, MM/yyyy or yyyy-MM-dd HH:mm:ss, of dd, d, MM, M, yyyy, HH, H, mm, ss',
    })
    .optional()
    .describe('How times are written; cells that are dates already need no format but are marked with one'),
  zone: z
    .string()
    .refine(isZone, { error: 'name a time zone such as Europe/Berlin, or an offset such as +01:00' })
    .optional(),
  empty: z.json().optional().describe('What an empty cell stands for; without it nothing is said'),
});
export type Source = z.infer<typeof sourceSchema>;
