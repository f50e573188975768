/** Pieces that the bodies of records share. zod is the contract: OpenAPI is made from these. */
import { z } from 'zod';
import { heldElement, id, place, rotation } from '../catalogue/edition.ts';
import { add, compare } from '../quantity/exact.ts';
import { type Quantity, quantitySchema } from '../quantity/quantity.ts';
import { type Dimension, dimensionOf, units } from '../quantity/unit.ts';
import { timeSchema } from '../time/instant.ts';

const line = z.string().trim().min(1).max(500);

/** The shop's own id of a shop, technician, instrument: its spelling is the shop's. */
export const ownId = z.string().regex(/^[A-Za-z0-9][A-Za-z0-9._:-]{0,63}$/, {
  error: 'an id is 1 to 64 letters, digits, dots, colons, underscores and hyphens, and begins with a letter or digit',
});
export const serial = z.string().trim().min(1).max(64);
export const slug = id;

export const unknown = z
  .strictObject({ unknown: line.describe('Why it is not known') })
  .describe('Said in place of an id that is not known: recorded and judged, never invented');
export type Unknown = z.infer<typeof unknown>;

export const unitRef = z
  .union([z.strictObject({ maker: slug, serial }), z.strictObject({ maker: slug, tag: serial })])
  .describe('A unit by maker and serial, or by the tag of a control without a serial');
export type UnitRef = z.infer<typeof unitRef>;

export const person = z.union([ownId, unknown]);
export const instrumentRef = z.union([ownId, unknown]);
export const lotRef = z.union([
  z.string().trim().min(1).max(64),
  z.strictObject({ maker: slug, number: z.string().trim().min(1).max(64) }),
  unknown,
]);
export type LotRef = z.infer<typeof lotRef>;

/** Any reading or check may have its own person and time: a job has several people and days. */
const ownByAt = { by: person.optional(), at: timeSchema.optional() };

export const removed = z.strictObject({
  station: place,
  element: z.union([id, unknown]),
  quantity: z.int().min(1).max(1000).default(1),
  measured: z.record(id, quantitySchema).optional(),
  ...ownByAt,
});
export const fitted = z.strictObject({
  station: place,
  element: z.union([id, unknown]),
  quantity: z.int().min(1).max(1000).default(1),
  lot: lotRef.optional(),
  measured: z.record(id, quantitySchema).optional(),
  ...ownByAt,
});
export const sealRenewed = z.strictObject({
  joint: place,
  seal: z.union([id, unknown]),
  quantity: z.int().min(1).max(1000).default(1),
  lot: lotRef.optional(),
  ...ownByAt,
});
const inDimension = (dimension: Dimension) =>
  quantitySchema.refine(({ unit }) => dimensionOf(unit) === dimension, {
    error: `this is a ${dimension}: use one of ${units.filter((unit) => dimensionOf(unit) === dimension).join(', ')}`,
    path: ['unit'],
  });

export const torque = z.strictObject({
  joint: place,
  how: z.enum(['set', 'indicated']),
  reading: z.union([inDimension('torque'), z.array(inDimension('torque')).min(1).max(100)]),
  instrument: instrumentRef,
  adapter: z
    .strictObject({ arm: inDimension('length'), extension: inDimension('length') })
    .refine(isLever, { error: 'the arm, and arm and extension together, are longer than nothing', path: ['arm'] })
    .optional(),
  ...ownByAt,
});
export const settingReading = z.strictObject({
  setting: place,
  reading: quantitySchema,
  instrument: instrumentRef,
  conditions: z.record(id, quantitySchema).optional(),
  ...ownByAt,
});
export const checkResult = z.strictObject({
  check: id,
  result: z.enum(['passed', 'failed', 'not-done', 'not-applicable']),
  value: quantitySchema.optional(),
  reason: line.optional(),
  ...ownByAt,
});

/** Without a length nothing turns, and any torque would do. */
function isLever({ arm, extension }: { arm: Quantity; extension: Quantity }): boolean {
  const nothing = { value: '0', unit: 'mm' };
  return compare(arm, nothing) > 0 && compare(add(arm, extension), nothing) > 0;
}

/** What sits at a station, as somebody states it. */
export const statedContent = z.union([z.array(heldElement).max(50), unknown]);
export const found = z.strictObject({
  function: id.optional(),
  stations: z.record(place, statedContent).optional(),
  settings: z.record(place, quantitySchema).optional(),
  plate: line.optional(),
});

/** What every record says of itself. */
export const frame = {
  reference: z.string().trim().min(1).max(100).describe("The shop's own id of this record, unique for ever"),
  workOrder: z.string().trim().min(1).max(100).optional(),
  edition: id,
  performedAt: timeSchema,
  after: z
    .uuid()
    .toLowerCase()
    .optional()
    .describe('The record after which this work was done, where times do not say'),
  shop: ownId,
  technician: person,
  grade: z.enum(['first-hand', 'from-paper', 'told']).default('first-hand'),
  note: z.string().max(4000).optional().describe('Free text, kept apart and erasable'),
};

export const evidence = {
  seals: z.array(sealRenewed).max(200).default([]),
  torques: z.array(torque).max(200).default([]),
  settings: z.array(settingReading).max(100).default([]),
  checks: z.array(checkResult).max(100).default([]),
};

export const builtFor = z.strictObject({
  size: id.optional(),
  rotation: rotation.optional(),
  voltage: z.string().max(20).optional(),
});

export function isUnknown(value: unknown): value is Unknown {
  return typeof value === 'object' && value !== null && 'unknown' in value;
}
