/** The bodies of the records of this service, as callers post them. */
import { z } from 'zod';
import { id, place, rotation } from '../catalogue/edition.ts';
import { bases } from '../fit/fit.ts';
import { quantitySchema } from '../quantity/quantity.ts';
import { timeSchema } from '../time/instant.ts';
import { movementBody, retirementBody, startUpBody } from './life-bodies.ts';
import {
  builtFor,
  evidence,
  fitted,
  found,
  frame,
  ownId,
  person,
  removed,
  serial,
  statedContent,
  unitRef,
} from './parts.ts';

const onOneUnit = {
  control: unitRef.optional().describe('The control; or name its pump, but not both'),
  pump: unitRef.optional().describe('The pump: what is worked on is it and the control on it'),
};
const parts = {
  removed: z.array(removed).max(200).default([]).describe('What came out and stayed out'),
  fitted: z.array(fitted).max(200).default([]).describe('What was put in'),
};
const oneUnit = (body: { control?: unknown; pump?: unknown }) =>
  (body.control === undefined) !== (body.pump === undefined);
const oneUnitError = { error: 'name the unit once: "control", or "pump" for the control on it', path: ['control'] };

export const conversionBody = z
  .strictObject({
    ...onOneUnit,
    ...frame,
    sheet: z.string().max(100).optional().describe('The digest of the job sheet that was worked to'),
    opened: z
      .array(place)
      .max(100)
      .optional()
      .describe('Stations opened, where it was another way in than the sheet says'),
    for: builtFor.optional().describe('What a control on the shelf is built for'),
    found: found.optional(),
    to: z.strictObject({ function: id }).nullable().describe('The declared function; null: it matches none'),
    ...parts,
    ...evidence,
  })
  .refine(oneUnit, oneUnitError);
export type ConversionBody = z.infer<typeof conversionBody>;

export const mountingBody = z
  .strictObject({
    control: unitRef
      .optional()
      .describe('Left out when the control on the pump comes off it, as where it has no serial'),
    pump: unitRef,
    ...frame,
    on: z.boolean().describe('true: put on the pump; false: taken off it'),
    tag: serial.optional().describe('The tag given to a control without a serial when it comes off'),
    found: found.optional(),
    ...parts,
    ...evidence,
  })
  .refine(({ on, control }) => !on || control !== undefined, {
    error: 'name the control that was put on the pump',
    path: ['control'],
  });
export type MountingBody = z.infer<typeof mountingBody>;

export const adjustmentBody = z.strictObject({ ...onOneUnit, ...frame, ...evidence }).refine(oneUnit, oneUnitError);
export type AdjustmentBody = z.infer<typeof adjustmentBody>;

export const repairBody = z
  .strictObject({
    ...onOneUnit,
    ...frame,
    opened: z
      .array(place)
      .max(100)
      .optional()
      .describe('Stations opened, where it was another way in than the one that breaks least'),
    found: found.optional(),
    ...parts,
    ...evidence,
  })
  .refine(oneUnit, oneUnitError);
export type RepairBody = z.infer<typeof repairBody>;

export const testBody = z
  .strictObject({
    ...onOneUnit,
    ...frame,
    settings: evidence.settings,
    checks: evidence.checks,
    measurements: evidence.measurements,
    circuit: evidence.circuit,
  })
  .refine(oneUnit, oneUnitError);
export type TestBody = z.infer<typeof testBody>;

export const inspectionBody = z
  .strictObject({
    ...onOneUnit,
    ...frame,
    opened: z.array(place).max(100).default([]).describe('Stations opened to look'),
    found,
    ...evidence,
  })
  .refine(oneUnit, oneUnitError);
export type InspectionBody = z.infer<typeof inspectionBody>;

/** The bodies of bench work by kind. */
export const workBodies = {
  conversion: conversionBody,
  mounting: mountingBody,
  adjustment: adjustmentBody,
  repair: repairBody,
  inspection: inspectionBody,
  test: testBody,
} as const;

const reason = z.string().trim().min(1).max(2000).describe('Why it is corrected');
const instead = <Kind extends string, Body extends z.ZodType>(kind: Kind, body: Body) =>
  z.strictObject({ kind: z.literal(kind), reason, body });

/** The whole record as it should have been, of the same kind, unit and reference; or nothing in its place. */
export const correctionBody = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('void'), reason }),
  instead('conversion', conversionBody),
  instead('mounting', mountingBody),
  instead('adjustment', adjustmentBody),
  instead('repair', repairBody),
  instead('inspection', inspectionBody),
  instead('test', testBody),
  instead('movement', movementBody),
  instead('start-up', startUpBody),
  instead('retirement', retirementBody),
]);
export type CorrectionBody = z.infer<typeof correctionBody>;

const said = {
  reference: frame.reference,
  performedAt: timeSchema.describe('When it was seen or done'),
  shop: frame.shop,
  technician: frame.technician,
  reason: z.string().trim().min(1).max(2000).describe('What it is known from'),
  grade: frame.grade,
  note: frame.note,
};
const whichUnit = { control: unitRef.optional(), pump: unitRef.optional() };

/** Which unit is which. */
export const identityBody = z
  .discriminatedUnion('what', [
    z.strictObject({ what: z.literal('retagged'), control: unitRef, tag: serial, ...said }),
    z.strictObject({ what: z.literal('re-plated'), ...whichUnit, serial, ...said }),
    z.strictObject({
      what: z.literal('wrong-plate'),
      ...whichUnit,
      serial: serial.optional().describe('Its right serial; its serial so far leads to it no more'),
      tag: serial.optional().describe('For a control whose right serial is not known'),
      ...said,
    }),
    z.strictObject({
      what: z.literal('exchanged'),
      pump: unitRef,
      control: unitRef.describe(
        'The control that was found on the pump, in place of the one that the records have there',
      ),
      ...said,
    }),
    z.strictObject({
      what: z.literal('merged'),
      ...whichUnit,
      with: unitRef.describe('The unit that turns out to be the same: its names lead here from now on'),
      ...said,
    }),
  ])
  .refine(
    (body) =>
      body.what === 'exchanged' || (body.control === undefined) !== (!('pump' in body) || body.pump === undefined),
    {
      error: 'name the unit once: "control" or "pump"',
      path: ['control'],
    },
  );
export type IdentityBody = z.infer<typeof identityBody>;

const basis = z.enum(bases);
const registered = {
  function: id.nullable().optional().describe('The function it has; null: it matches none'),
  basis: basis.default('plate').describe('How the content is known, where a station does not say otherwise'),
  choices: z.record(place, id).optional().describe('Which of several elements, where the function leaves a choice'),
  stations: z
    .record(place, z.strictObject({ content: statedContent, basis: basis.optional() }))
    .optional()
    .describe('Stations stated one by one'),
};
const seen = {
  edition: id,
  performedAt: timeSchema.describe('When it was seen'),
  builtAt: timeSchema.optional().describe('Since when it exists; no work before that is taken'),
  deliveredAt: timeSchema.optional(),
  shop: ownId.optional(),
  technician: person.optional(),
  hours: frame.hours,
  note: frame.note,
};

export const controlRegistration = z.strictObject({ ...seen, body: id, ...registered, for: builtFor.optional() });
export type ControlRegistration = z.infer<typeof controlRegistration>;

export const pumpRegistration = z.strictObject({
  ...seen,
  series: id,
  size: id,
  rotation,
  fluid: id.optional().describe('Which seals it may have; where it is left out nothing is said of their compound'),
  stations: registered.stations,
  basis: registered.basis,
  control: z
    .strictObject({
      serial: serial
        .optional()
        .describe('Left out for a control that has none: it is known as the control of its pump'),
      body: id,
      ...registered,
      for: builtFor
        .pick({ voltage: true })
        .optional()
        .describe("What it is built for besides the pump's size and rotation"),
      settings: z.record(place, quantitySchema).optional().describe('As read, by setting'),
    })
    .nullable()
    .describe('The control on it; null: it is bare'),
});
export type PumpRegistration = z.infer<typeof pumpRegistration>;
