/** What came into a lot at a shop, and what left it otherwise than by use. */
import { z } from 'zod';
import { id, place } from '../catalogue/edition.ts';
import { timeSchema } from '../time/instant.ts';
import { frame, lotName, ownId } from './parts.ts';

const frameOfMove = { reference: frame.reference, performedAt: timeSchema, shop: ownId, note: frame.note };
const location = z.string().trim().min(1).max(100).optional().describe('Where in the shop, such as a shelf');
const number = {
  quantity: z.int().min(1).max(1_000_000).describe('Kits, or pieces'),
  counts: z
    .enum(['kits', 'pieces'])
    .optional()
    .describe('What the number is of; left out: kits of a lot of kits, else pieces'),
  item: id.optional().describe('Of pieces from a lot of kits: which element or seal they are'),
};
const kitsHaveNoItem = {
  error: 'an item is counted in pieces: leave "counts" out, or the item',
  path: ['counts'],
};
const isCountable = ({ counts, item }: { counts?: string | undefined; item?: string | undefined }) =>
  item === undefined || counts !== 'kits';

export const intakeBody = z.strictObject({ ...frameOfMove, location, ...number }).refine(isCountable, kitsHaveNoItem);
export type IntakeBody = z.infer<typeof intakeBody>;

const reason = z.string().trim().min(1).max(500).describe('Why');
export const scrappingBody = z.strictObject({ ...frameOfMove, ...number, reason }).refine(isCountable, kitsHaveNoItem);
export type ScrappingBody = z.infer<typeof scrappingBody>;
export const returnBody = z.strictObject({ ...frameOfMove, ...number, reason }).refine(isCountable, kitsHaveNoItem);
export type ReturnBody = z.infer<typeof returnBody>;

export const countBody = z
  .strictObject({
    ...frameOfMove,
    ...number,
    quantity: z.int().min(0).max(1_000_000).describe('What was found in the whole shop: whole kits, or pieces'),
    loose: z
      .array(z.strictObject({ item: id, quantity: z.int().min(0).max(1_000_000) }))
      .max(200)
      .default([])
      .describe('Of a lot of kits: pieces found beside the whole ones; what is not listed was not there'),
  })
  .refine(isCountable, kitsHaveNoItem);
export type CountBody = z.infer<typeof countBody>;

export const restockingBody = z.strictObject({
  ...frameOfMove,
  location,
  record: z.uuid().toLowerCase().describe('The record by which the part was taken out'),
  station: place.describe('The station that it was taken out of'),
  element: id,
  quantity: z.int().min(1).max(1000).default(1),
  lot: lotName.optional().describe('The lot that it is from, where the records do not say that'),
});
export type RestockingBody = z.infer<typeof restockingBody>;

/** What is said of a lot that the path names. */
export const lotMoveBodies = {
  intake: intakeBody,
  scrapping: scrappingBody,
  return: returnBody,
  count: countBody,
} as const;
export type LotMoveKind = keyof typeof lotMoveBodies;
export type LotMove =
  | { readonly kind: 'intake'; readonly body: IntakeBody }
  | { readonly kind: 'scrapping'; readonly body: ScrappingBody }
  | { readonly kind: 'return'; readonly body: ReturnBody }
  | { readonly kind: 'count'; readonly body: CountBody };
export const lotMoveKinds = Object.keys(lotMoveBodies) as readonly LotMoveKind[];
