/** Pieces that the bodies of records share. zod is the contract: OpenAPI is made from these. */
import { z } from 'zod';
import { heldElement, id, place, rotation } from '../catalogue/edition.ts';
import { add, compare } from '../quantity/exact.ts';
import { type Quantity, quantitySchema } from '../quantity/quantity.ts';
import { type Dimension, dimensionOf, units } from '../quantity/unit.ts';
import { timeSchema } from '../time/instant.ts';
import { attachmentDigest } from './attachment.ts';

const line = z.string().trim().min(1).max(500);

/** For what is computed from parts that can be wrong each by itself: where one is, that is said, and nothing computed. */
export const isSound = ({ issues }: { readonly issues: readonly unknown[] }): boolean => issues.length === 0;

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
export const lotRef = z
  .union([
    z.string().trim().min(1).max(64),
    z.strictObject({ maker: slug, number: z.string().trim().min(1).max(64) }),
    unknown,
  ])
  .describe("The number of a lot of the unit's maker, or with its own maker, or why it is not known");
export type LotRef = z.infer<typeof lotRef>;
export const lotName = z.strictObject({ maker: slug, number: z.string().trim().min(1).max(64) });

/** Any reading or check may have its own person and time: a job has several people and days. */
const ownByAt = {
  by: person.optional().describe('Who did this part of the work, where it was another'),
  at: timeSchema.optional().describe('When, where it was another time'),
};
const measured = z.record(id, quantitySchema).optional().describe('Readings of the part by name, such as its bore');

export const removed = z.strictObject({
  station: place,
  element: z.union([id, unknown]),
  quantity: z.int().min(1).max(1000).default(1),
  measured,
  ...ownByAt,
});
export const fitted = z
  .strictObject({
    station: place,
    element: z.union([id, unknown]),
    quantity: z.int().min(1).max(1000).default(1),
    lot: lotRef.optional(),
    serial: serial.optional().describe("Of a part that has one, by the lot's maker, else the unit's"),
    measured,
    ...ownByAt,
  })
  .refine(({ serial: stated, quantity }) => stated === undefined || quantity === 1, {
    ...{ error: 'a serial is that of one piece: give each a line of its own', path: ['quantity'] },
    when: isSound,
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
  how: z.enum(['set', 'indicated']).describe('set: the wrench clicked at the reading; indicated: it was read off'),
  reading: z
    .union([inDimension('torque'), z.array(inDimension('torque')).min(1).max(100)])
    .describe('A torque, or of a joint of several screws one for each'),
  instrument: instrumentRef,
  adapter: z
    .strictObject({ arm: inDimension('length'), extension: inDimension('length') })
    .refine(isLever, {
      ...{ error: 'the arm, and arm and extension together, are longer than nothing', path: ['arm'] },
      when: isSound,
    })
    .optional()
    .describe('An extension E on an arm L changes what arrives: reading·(L+E)/L is judged'),
  ...ownByAt,
});
export const settingReading = z.strictObject({
  setting: place,
  reading: quantitySchema,
  instrument: instrumentRef,
  second: ownId.optional().describe('The other instrument, where the reading is the difference of two'),
  conditions: z.record(id, quantitySchema).optional().describe('Under which it was read, by name, such as speed'),
  ...ownByAt,
});
export const measurement = z
  .strictObject({
    measured: id.describe('What was measured, by name, such as leakage'),
    reading: quantitySchema,
    instrument: instrumentRef,
    conditions: z.record(id, quantitySchema).optional().describe('Under which it was measured, by name, such as speed'),
    through: z
      .strictObject({
        station: place,
        pressure: inDimension('pressure').refine(isMoreThanNothing, {
          ...{ error: 'nothing flows without a pressure', path: ['value'] },
          when: isSound,
        }),
      })
      .optional()
      .describe('Of a flow through an orifice: the station where it sits, and the pressure across it'),
    ...ownByAt,
  })
  .refine(({ through, reading }) => through === undefined || dimensionOf(reading.unit) === 'flow', {
    ...{ error: 'what goes through an orifice is a flow: use L/min or gal/min', path: ['reading', 'unit'] },
    when: isSound,
  });
export const checkResult = z.strictObject({
  check: id,
  result: z.enum(['passed', 'failed', 'not-done', 'not-applicable']),
  value: quantitySchema.optional(),
  reason: line.optional().describe('Why it was not done, or does not apply'),
  ...ownByAt,
});

function isMoreThanNothing({ value, unit }: Quantity): boolean {
  return compare({ value, unit }, { value: '0', unit }) > 0;
}

/** Without a length nothing turns, and any torque would do. */
function isLever({ arm, extension }: { arm: Quantity; extension: Quantity }): boolean {
  const nothing = { value: '0', unit: 'mm' };
  return compare(arm, nothing) > 0 && compare(add(arm, extension), nothing) > 0;
}

/** What sits at a station, as somebody states it. */
export const statedContent = z
  .union([z.array(heldElement).max(50), unknown])
  .describe('What sits at a station: an empty list says that nothing does');
export const found = z
  .strictObject({
    function: id.optional().describe('Stands for the stations that it decides, where they are not stated'),
    stations: z.record(place, statedContent).optional().describe('One by one, by station'),
    settings: z.record(place, quantitySchema).optional().describe('As read before the work, by setting'),
    plate: line.optional().describe('What the plate says'),
  })
  .describe('What was there when the work began; left out: what the records say');

/** What every record says of itself. */
export const frame = {
  reference: z.string().trim().min(1).max(100).describe("The shop's own id of this record, unique for ever"),
  workOrder: z.string().trim().min(1).max(100).optional().describe('An order number, free and not looked at'),
  edition: id.describe('The edition that was worked to: the record is judged by it'),
  performedAt: timeSchema.describe('When the work was done'),
  after: z
    .uuid()
    .toLowerCase()
    .optional()
    .describe('The record after which this work was done, where times do not say'),
  shop: ownId.describe('The own id of the shop, as in /v1/shops'),
  technician: person.describe('Who did the work, by the own id as in /v1/technicians, or why it is not known'),
  hours: inDimension('time')
    .refine(({ value }) => !value.startsWith('-'), {
      ...{ error: 'nothing runs for less than no time', path: ['value'] },
      when: isSound,
    })
    .optional()
    .describe('Running hours as read: of the pump where one is named, else of the control'),
  grade: z.enum(['first-hand', 'from-paper', 'told']).default('first-hand').describe('How first-hand this record is'),
  attachments: z
    .array(attachmentDigest)
    .max(50)
    .default([])
    .describe('Pictures and papers, as POST /v1/attachments named them'),
  note: z.string().max(4000).optional().describe('Free text, kept apart and erasable'),
};

export const evidence = {
  seals: z.array(sealRenewed).max(200).default([]).describe('Seals renewed, by joint'),
  torques: z.array(torque).max(200).default([]).describe('Joints closed'),
  settings: z.array(settingReading).max(100).default([]).describe('Settings as set, or as read'),
  checks: z.array(checkResult).max(100).default([]).describe('Checks, also those not done and why'),
  measurements: z
    .array(measurement)
    .max(200)
    .default([])
    .describe('What else was measured, and under which conditions'),
  circuit: z
    .record(id, quantitySchema)
    .default({})
    .describe('Values of the circuit that the pump is in, by name, such as system-relief or highest-signal'),
};

export const builtFor = z
  .strictObject({
    size: id.optional(),
    rotation: rotation.optional(),
    voltage: z.string().max(20).optional(),
  })
  .describe('What a control is built for, as far as that is decided');

export function isUnknown(value: unknown): value is Unknown {
  return typeof value === 'object' && value !== null && 'unknown' in value;
}
