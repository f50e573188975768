/** The bodies of records of a unit's life off the bench: where it went, that it runs, that it is out of use. */
import { z } from 'zod';
import { id, place } from '../catalogue/edition.ts';
import { quantitySchema } from '../quantity/quantity.ts';
import { timeSchema } from '../time/instant.ts';
import { frame, ownId, serial, unitRef } from './parts.ts';

const line = z.string().trim().min(1).max(500);

const { edition: _, ...withoutEdition } = frame;
const lifeFrame = {
  control: unitRef.optional().describe('The control; or name a pump, but not both'),
  pump: unitRef.optional().describe('The pump'),
  ...withoutEdition,
  performedAt: timeSchema.describe('When it happened'),
  technician: frame.technician.describe('Who says so, by the own id as in /v1/technicians, or why it is not known'),
};
const oneUnit = (body: { control?: unknown; pump?: unknown }) =>
  (body.control === undefined) !== (body.pump === undefined);
const oneUnitError = { error: 'name the unit once: "control" or "pump"', path: ['control'] };

const whereTo = z
  .union([z.strictObject({ shop: ownId }), line])
  .describe('A shop of your own, or free text, which is kept apart and erasable');

/** One due or several of what is open: by what would clear it, or by the record that it is due of. */
const dueRef = z.union([
  z.strictObject({ check: id }),
  z.strictObject({ setting: place }),
  z.strictObject({ record: z.uuid().toLowerCase(), rule: id }),
]);
export type DueRef = z.infer<typeof dueRef>;

const handedOver = z
  .strictObject({
    acceptedBy: line.describe('Who has accepted to see to them; kept apart and erasable'),
    dues: z.array(dueRef).min(1).max(100),
  })
  .optional()
  .describe('What is still due and somebody else has taken over');

export const movements = ['received', 'delivered', 'lent', 'returned', 'tagged'] as const;

/** What is mounted on the unit, or it is mounted on, goes with it. */
export const movementBody = z
  .strictObject({
    what: z
      .enum(movements)
      .describe(
        'received: in at the shop; returned: in again from a loan; delivered, lent: out of it; tagged: a control without a serial gets a tag where it is',
      ),
    ...lifeFrame,
    shop: frame.shop.describe('The own id of the shop that it came in at or went out of'),
    from: whereTo.optional(),
    to: whereTo.optional(),
    tag: serial.optional().describe('For a control without a serial, by which it is known from now on'),
    handedOver,
  })
  .refine(oneUnit, oneUnitError)
  .refine(({ what, tag }) => what !== 'tagged' || tag !== undefined, { error: 'which tag it got', path: ['tag'] })
  .refine(({ what, handedOver }) => what === 'delivered' || what === 'lent' || handedOver === undefined, {
    error: 'dues are handed over with what goes out: delivered or lent',
    path: ['handedOver'],
  });
export type MovementBody = z.infer<typeof movementBody>;

export const startUpBody = z
  .strictObject({
    ...lifeFrame,
    machine: line.describe('The machine that it runs in; kept apart and erasable, as it can name a customer'),
    circuit: z
      .record(id, quantitySchema)
      .default({})
      .describe('Values of the circuit as measured, by name, such as signal-pressure or system-relief'),
    handedOver,
  })
  .refine(oneUnit, oneUnitError);
export type StartUpBody = z.infer<typeof startUpBody>;

export const retirementBody = z
  .strictObject({
    ...lifeFrame,
    reason: z.string().trim().min(1).max(2000).describe('Why it is out of use for good'),
  })
  .refine(oneUnit, oneUnitError);
export type RetirementBody = z.infer<typeof retirementBody>;

export const lifeBodies = { movement: movementBody, 'start-up': startUpBody, retirement: retirementBody } as const;
export const lifeKinds = ['movement', 'start-up', 'retirement'] as const;
export type LifeKind = (typeof lifeKinds)[number];

export type LifeRecord =
  | { readonly kind: 'movement'; readonly body: MovementBody }
  | { readonly kind: 'start-up'; readonly body: StartUpBody }
  | { readonly kind: 'retirement'; readonly body: RetirementBody };
