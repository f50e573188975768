/** What a reach is asked of. Plain data: a containment keeps it as it was stated. */
import { z } from 'zod';
import { id } from '../catalogue/edition.ts';
import { ownId, slug } from '../records/parts.ts';
import { exactTimeSchema, parseTime } from '../time/instant.ts';

/** Of a part that went in: one and the same part has to be all of it. */
const ofParts = {
  lot: z
    .string()
    .regex(/^[a-z0-9][a-z0-9.-]{0,49}\/\S(.{0,62}\S)?$/, { error: 'name the lot as MAKER/NUMBER' })
    .optional()
    .describe('MAKER/NUMBER of a lot; pieces that are in kits are found through the lots of those kits'),
  element: id.optional().describe('An element or seal that went in, or an element that a record found in'),
  part: id.optional().describe('A part such as a kit: whatever is from a lot that is stated to be of it'),
};
/** Of a record as a whole. */
const ofRecords = {
  instrument: ownId.optional().describe('An instrument that the record names, by its own id'),
  technician: ownId
    .optional()
    .describe(
      "A person whom the record names: by the shop's own id; for the maker's people by the id that records have",
    ),
  shop: ownId.optional().describe('Where the record was made'),
  edition: id.optional().describe('The edition that the record names'),
  function: id.optional().describe('What the record left the control as'),
};
const narrower = {
  distributor: slug.optional().describe('Only records of this distributor: its own ids of things are of no other'),
  maker: slug.optional().describe('Only units of this make'),
  from: exactTimeSchema.optional().describe('Only work that may have been done at this instant or later'),
  to: exactTimeSchema.optional().describe('Only work that may have been done before this instant'),
};

export const reachShape = { ...ofParts, ...ofRecords, ...narrower };

/** Every member that is there has to be true of a record; at least one says what is sought. */
export type ReachCriteria = Readonly<Partial<Record<keyof typeof reachShape, string | undefined>>>;

export const reachCriteria = z.strictObject(reachShape).superRefine(checkCriteria);

export function checkCriteria(criteria: ReachCriteria, context: z.core.$RefinementCtx): void {
  const sought = [...Object.keys(ofParts), ...Object.keys(ofRecords)] as (keyof ReachCriteria)[];
  if (sought.every((name) => criteria[name] === undefined))
    context.addIssue({ code: 'custom', path: ['lot'], message: `name at least one of ${sought.join(', ')}` });
  const { from, to } = criteria;
  if (from !== undefined && to !== undefined && isSoundTime(from) && isSoundTime(to) && !isBefore(from, to))
    context.addIssue({ code: 'custom', path: ['to'], message: '"to" must be later than "from"' });
}

/** Whether parts are sought, so that a unit holds them or doesn't; else what a record did counts. */
export function seeksParts({ lot, element, part }: ReachCriteria): boolean {
  return lot !== undefined || element !== undefined || part !== undefined;
}

/** The element that is sought whatever it is from: then a record that only found it counts too. */
export function elementAlone({ lot, element, part }: ReachCriteria): string | null {
  return lot === undefined && part === undefined ? (element ?? null) : null;
}

function isSoundTime(text: string): boolean {
  return exactTimeSchema.safeParse(text).success;
}

function isBefore(from: string, to: string): boolean {
  return parseTime(from).from < parseTime(to).from;
}
