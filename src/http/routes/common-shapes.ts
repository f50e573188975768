/**
 * Pieces that answers share. Reads are held against these shapes on their way out, so that nothing leaves undescribed;
 * what was kept as it was sent is described loosely, because an old record need not look like a new one. No shape here
 * turns one value into another: what goes out is only looked at.
 */
import { z } from 'zod';
import { bases } from '../../core/fit/fit.ts';
import { shownUnits, units } from '../../core/quantity/unit.ts';
import { clearKinds, severities } from '../../core/rules/finding.ts';
import { exactTimeSchema, parseTime } from '../../core/time/instant.ts';

/** What the core gives is not to be changed, and a list of it neither. */
export function list<T extends z.ZodType>(item: T): z.ZodType<readonly z.output<T>[]> {
  return z.array(item);
}

/** For an answer of which the use case's type says less than the shape does. */
export function described<Answer>(shape: z.ZodType): z.ZodType<Answer> {
  return shape as z.ZodType<Answer>;
}

type KeptAs = 'object' | 'array' | 'string';

/** JSON that is passed on as it was kept. */
export function asKept(description: string, type: KeptAs | KeptAs[] = 'object'): z.ZodType<unknown> {
  return z.unknown().meta({ type, description });
}

export const count = z.number().meta({ type: 'integer', minimum: 1 });
export const uuid = z.string().meta({ format: 'uuid' });
export const unitName = z.string().nullable().meta({
  description: 'The serial or tag as written; null for a control that is known by its pump alone',
});
export const instant = z
  .string()
  .meta({ format: 'date-time', examples: ['2026-03-14T09:25:00.000000Z'], description: 'UTC with six decimals' });
export const interval = z
  .strictObject({ from: instant, to: instant })
  .meta({ id: 'Interval', description: 'When the work was done; both ends belong to it, an exact time is both' });
export const digest = z.string().meta({ examples: ['sha256:3f0a…'], description: 'sha256: and 64 hexadecimal digits' });

/** `unit` is a text here: the type of a quantity in the core says no more. */
const measured = { value: z.string(), unit: z.string().meta({ enum: units }) };
const shown = { value: z.string(), unit: z.string().meta({ enum: shownUnits }) };
export const quantity = z
  .strictObject({
    ...measured,
    display: z
      .strictObject(shown)
      .optional()
      .meta({ description: 'Where units= was asked: the same, rounded, in units of that system. Never to be kept' }),
  })
  .meta({ id: 'Quantity', description: 'A measured value: the decimals as read, and the unit' });

export const bound = z
  .strictObject({ ...quantity.shape, from: z.string().meta({ description: 'What it comes from, in words' }) })
  .meta({ id: 'Bound', description: 'A limit of a setting' });

export const held = z
  .strictObject({ element: z.string(), quantity: count })
  .meta({ id: 'Held', description: 'So many of an element' });
export const elements = list(held)
  .nullable()
  .meta({ description: 'What sits there; an empty list: nothing; null: it is not known' });
export const basis = z
  .enum(bases)
  .meta({ id: 'Basis', description: 'How the content is known; with "assumed" and "unknown" nobody vouches for it' });
export const content = z
  .strictObject({ elements, basis })
  .meta({ id: 'Content', description: 'What sits at a station, and how that is known' });
export const clear = z
  .strictObject({
    kind: z.enum(clearKinds),
    place: z.string().meta({
      description:
        'The joint, setting, check or station that the evidence must be of; of a disposition or correction, the record that it is about; of an authorisation, the person by the id that records have; of an approval, the shop; of a containment, its id',
    }),
  })
  .meta({ id: 'Clear', description: 'What would clear a finding: later evidence of this kind at this place' });
export const finding = z
  .strictObject({
    rule: z.string().meta({ description: 'The id of the rule: the table is in README' }),
    severity: z.enum(severities).meta({
      description:
        'refuse: the record was not taken; hold: it must not ship; due: evidence is still to come; note: to be read',
    }),
    pointer: z.string().meta({ description: 'JSON pointer (RFC 6901) into the body as sent' }),
    expected: z.string().nullable(),
    found: z.string().nullable(),
    because: z.string().meta({ description: 'One sentence for people' }),
    clearedBy: list(clear).meta({ description: 'Any one of these clears it; empty for a refusal or a note' }),
    text: z.string(),
  })
  .meta({ id: 'Finding', description: 'What a rule says of a record' });
const limit = z.union([
  z.strictObject({ what: z.string(), atMost: quantity }),
  z.strictObject({ text: z.string().nullable().meta({ description: 'Null where it is for others to read' }) }),
]);
const concession = z
  .strictObject({
    record: uuid.meta({ description: 'The disposition that gives it' }),
    until: instant.nullable().meta({ description: 'From then on it holds the unit again; null: it has no end' }),
    ended: z.boolean().meta({ description: 'Whether it has ended by the time that is asked for' }),
    limits: list(limit).meta({ description: 'Within which the unit may be used' }),
  })
  .meta({ id: 'Concession', description: 'Leave to use a unit in spite of a finding, with limits or an end' });
export const openFinding = z
  .strictObject({
    rule: z.string(),
    severity: z.enum(['hold', 'due']),
    pointer: z.string().meta({ description: 'Into the body of the record that opened it' }),
    clearedBy: list(clear),
    fact: uuid.meta({ description: 'The record that opened it' }),
    handedOver: uuid
      .optional()
      .meta({ description: 'Of a due that a named party has taken over: the start-up or movement that says so' }),
    concession: concession.optional(),
    instruction: z.string().optional().meta({ description: 'Of a containment: what is to be done' }),
  })
  .meta({
    id: 'OpenFinding',
    description:
      'A hold or due that nothing has cleared yet. It counts for nothing while a concession on it has not ended',
  });
export const status = z.enum(['released', 'incomplete', 'held']).meta({
  id: 'Status',
  description:
    'released: nothing stands against it; incomplete: evidence is still due; held: something is wrong and undecided',
});

export const cursor = z.string().meta({ description: 'Send it as `after` to get what follows' });
export const pageInfo = z
  .strictObject({ endCursor: z.string().nullable(), hasNextPage: z.boolean() })
  .meta({ id: 'PageInfo', description: 'Send endCursor as `after` to get the next page' });

/** Of an answer for which `known` was asked. */
export const settledFields = {
  known: instant.nullable().optional().meta({
    description:
      'As it was known at this time: the horizon where a later one was asked; null or left out: as known now',
  }),
  settled: z
    .boolean()
    .optional()
    .meta({ description: 'Whether the same question gets the same answer for ever: where `known` was asked' }),
  horizon: instant.optional().meta({ description: 'What was recorded before this can not change any more' }),
};

/** A list by pages of `first`. */
export function pageOf<T extends z.ZodType>(item: T, description: string) {
  return z.strictObject({ items: z.array(item), pageInfo }).meta({ description });
}

/** A page that may be asked for as it was known at a time. */
export function knownPageOf<T extends z.ZodType>(item: T, description: string) {
  return z.strictObject({ items: z.array(item), pageInfo, ...settledFields }).meta({ description });
}

export const knownQuery = {
  known: exactTimeSchema
    .optional()
    .describe('Answer with what was known at this time, at the latest at the settled horizon: the same for ever'),
};
export const performedQuery = {
  performed: exactTimeSchema.optional().describe('Answer for what had been done by this time'),
};

/** The instant that a query names; null: none. */
export function lastOf(time: string | undefined): string | null {
  return time === undefined ? null : parseTime(time).to;
}
