import { z } from 'zod';
export type Quantity = { value: string; unit: string };
export const quantitySchema = z.strictObject({ value: z.string(), unit: z.string() });
