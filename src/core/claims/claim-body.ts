/** The bodies of what a distributor says in a claim, as callers post them: the claim, and what comes to light later. */
import { z } from 'zod';
import { id, place } from '../catalogue/edition.ts';
import { compare } from '../quantity/exact.ts';
import { type Quantity, quantitySchema } from '../quantity/quantity.ts';
import { type Dimension, dimensionOf, units } from '../quantity/unit.ts';
import { frame, isSound, statedContent, unitRef, unknown } from '../records/parts.ts';
import { timeSchema } from '../time/instant.ts';
import { cleanlinessCode } from './cleanliness.ts';

const line = z.string().trim().min(1).max(500);
const text = z.string().trim().min(1).max(2000);

/** What can be claimed; terms are stated for each of them apart. */
export const claimedParts = ['pump', 'control', 'kit-part', 'workmanship'] as const;
export type ClaimedPart = (typeof claimedParts)[number];

const measured = (dimension: Dimension) =>
  quantitySchema.refine(({ unit }) => dimensionOf(unit) === dimension, {
    error: `this is a ${dimension}: use one of ${units.filter((unit) => dimensionOf(unit) === dimension).join(', ')}`,
    path: ['unit'],
    when: isSound,
  });
const share = measured('ratio').refine(isShare, { error: 'it is from 0 to 100 %', path: ['value'], when: isSound });
const orUnknown = <T extends z.ZodType>(known: T) => z.union([known, unknown]).optional();

export const observations = z
  .strictObject({
    fluid: orUnknown(line).describe('What the circuit was filled with'),
    cleanliness: orUnknown(cleanlinessCode),
    water: orUnknown(share).describe('Water in the fluid, by mass'),
    filter: orUnknown(line).describe('Which filter, and how it was found'),
    inletPressure: orUnknown(measured('pressure')).describe('At the inlet, above that of the air: below it negative'),
    casePressure: orUnknown(measured('pressure')),
    systemRelief: orUnknown(measured('pressure')).describe('What the relief valve of the system was found set to'),
    speed: orUnknown(measured('rotational speed')),
    oilTemperature: orUnknown(measured('temperature')),
  })
  .describe('What was seen and measured around the unit; what is not known may say so, and nobody has to guess');
export type Observations = z.infer<typeof observations>;

export const asFound = z
  .strictObject({
    function: id.optional(),
    stations: z.record(place, statedContent).optional().describe('What sat there when it was opened, by station'),
    settings: z.record(place, quantitySchema).optional().describe('As read before anything was turned, by setting'),
    plate: line.optional().describe('What the plate says'),
    marks: z
      .array(z.strictObject({ place: line.describe('Where, in your words'), text }))
      .max(100)
      .default([])
      .describe('Traces seen on parts, such as scoring or a cap mark that was broken'),
  })
  .describe('The unit as the teardown found it; it changes nothing of the fit on record');
export type AsFound = z.infer<typeof asFound>;

const said = {
  reference: frame.reference.describe("The shop's own id of this claim or piece of evidence, unique for ever"),
  shop: frame.shop,
  technician: frame.technician.optional(),
  attachments: frame.attachments,
  note: frame.note,
};

/**
 * `machine`, `duty` and the note are kept apart, because they can name a customer; they are told to the maker, as all of a
 * claim is.
 */
export const claimBody = z
  .strictObject({
    control: unitRef.optional().describe('The control; or name a pump, but not both'),
    pump: unitRef.optional().describe('The pump'),
    ...said,
    performedAt: timeSchema.describe('When the claim was raised'),
    replaces: z
      .uuid()
      .toLowerCase()
      .optional()
      .describe('An own claim of the same unit that this one corrects: it stays readable and counts no more'),
    failedAt: timeSchema.describe('When the unit failed, as precisely as it is known'),
    hours: quantitySchema
      .refine(({ unit, value }) => unit === 'h' && !value.startsWith('-'), {
        ...{ error: 'running hours are in h, and not less than none', path: ['unit'] },
        when: isSound,
      })
      .optional()
      .describe('Running hours when it failed; left out: not known'),
    startedUpAt: timeSchema.optional().describe('Left out: as the start-up on record says, if there is one'),
    deliveredAt: timeSchema.optional().describe('Left out: as the movement or registration on record says'),
    machine: line.optional().describe('The machine that it ran in; kept apart and erasable'),
    duty: text.optional().describe('What it had to do there; kept apart and erasable'),
    part: z.enum(claimedParts).describe('What is claimed: the terms of this part count'),
    symptom: id.describe('A word of the list of symptoms'),
    failureMode: id.describe('A word of the list of failure modes'),
    asFound: asFound.optional(),
    observations: observations.default({}),
  })
  .refine(({ control, pump }) => (control === undefined) !== (pump === undefined), {
    error: 'name the unit once: "control" or "pump"',
    path: ['control'],
  })
  .refine(({ part, pump }) => part !== 'pump' || pump !== undefined, {
    error: 'a pump is claimed by naming it: write "pump"',
    path: ['part'],
  });
export type ClaimBody = z.infer<typeof claimBody>;

/** Evidence that came later: it opens a claim that was decided. */
export const claimEvidenceBody = z
  .strictObject({
    ...said,
    performedAt: timeSchema.describe('When this was found'),
    asFound: asFound.optional(),
    observations: observations.optional(),
  })
  .refine((body) => saysSomething(body), {
    error: 'say what is new: as found, observations, attachments or a note',
    path: [],
    when: isSound,
  });
export type ClaimEvidenceBody = z.infer<typeof claimEvidenceBody>;

function saysSomething(body: {
  asFound?: unknown;
  observations?: object | undefined;
  attachments: unknown[];
  note?: unknown;
}) {
  const { asFound: found, observations: seen = {}, attachments, note } = body;
  return found !== undefined || Object.keys(seen).length > 0 || attachments.length > 0 || note !== undefined;
}

function isShare(q: Quantity): boolean {
  return compare(q, { value: '0', unit: '%' }) >= 0 && compare(q, { value: '100', unit: '%' }) <= 0;
}
