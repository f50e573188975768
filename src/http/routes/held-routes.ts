/** What is held and what is due at a distributor, and how much of it: by shop, rule, kind of record, time and age. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { countDue, countHeld, listDue, listHeld } from '../../app/list-held.ts';
import { period } from '../../core/catalogue/edition.ts';
import { exactTimeSchema, parseTime } from '../../core/time/instant.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { ownIdParam, pageQuery, slugParam } from './answers.ts';
import {
  instant,
  interval,
  knownPageOf,
  knownQuery,
  lastOf,
  list,
  openFinding,
  settledFields,
  unitName,
  uuid,
} from './common-shapes.ts';

const yesOrNo = z.enum(['true', 'false']).optional();
const filters = {
  shop: ownIdParam.optional().describe('Where the record was made'),
  rule: slugParam.optional().describe('The id of a rule'),
  kind: slugParam.optional().describe('The kind of the record that opened it, such as conversion'),
  from: exactTimeSchema.optional().describe('Whose work ended at this instant or later'),
  to: exactTimeSchema.optional().describe('Whose work ended before this instant'),
  days: z.coerce.number().int().min(0).max(36_500).optional().describe('Whose work ended at least so many days ago'),
  ...knownQuery,
};
const dueFilters = {
  ...filters,
  handedOver: yesOrNo.describe('true: what somebody else has taken over; left out or false: what nobody has'),
  overdue: yesOrNo.describe('true: only what is overdue; false: only what is not'),
  overdueAfter: period
    .optional()
    .describe('How long after the work a due is overdue where the edition does not say: P14D; left out: P30D'),
};

const { fact: _, ...finding } = openFinding.shape;
const ageDays = z.number().meta({ type: 'integer', description: 'Whole days since the work ended' });
const standing = {
  id: z.string().meta({ description: 'Of the place in this list' }),
  unit: z.strictObject({ unit: uuid, kind: z.enum(['pump', 'control']).nullable(), name: unitName }),
  record: uuid.meta({ description: 'The record that opened it' }),
  kind: z.string().meta({ description: 'Of the record' }),
  reference: z.string().nullable(),
  shop: z.string().nullable(),
  performed: interval,
  ageDays,
  ...finding,
};
const due = {
  ...standing,
  dueBy: instant
    .nullable()
    .meta({ description: 'From then on it is overdue; null: it is due by a containment that does not say by when' }),
  overdue: z.boolean(),
};
const items = {
  hold: z
    .strictObject(standing)
    .meta({ id: 'Standing', description: 'A finding that holds a unit, with the record that it is about' }),
  due: z.strictObject(due).meta({ id: 'Due', description: 'What is due on a unit, with the record that it is about' }),
};

const number = z.number().meta({ type: 'integer', minimum: 0 });
const overdue = number.meta({ description: 'How many of them are overdue' });
const counted = {
  shop: z.string().nullable(),
  rule: z.string(),
  days: z
    .strictObject({ from: number, to: number.nullable() })
    .meta({ description: 'Whole days since the work ended, both in it: 0 to 7, 8 to 30, 31 to 90, 91 and more' }),
  findings: number,
  units: number.meta({ description: 'On how many units; a unit may be in several lines' }),
};
const inOrder = { description: 'By shop, rule and age; no line where there is none' };
const counts = {
  hold: z
    .strictObject({ findings: number, counts: list(z.strictObject(counted)).meta(inOrder), ...settledFields })
    .meta({ id: 'HeldCounts', description: 'How much is held, in all and by shop, rule and age' }),
  due: z
    .strictObject({
      findings: number,
      overdue,
      counts: list(z.strictObject({ ...counted, overdue })).meta(inOrder),
      ...settledFields,
    })
    .meta({ id: 'DueCounts', description: 'How much is due, in all and by shop, rule and age' }),
};

export function heldRoutes(app: App): Routes {
  return (rest) => {
    rest.register(
      withScope('record:read', (scope) => {
        getHeld(app, scope);
        getDue(app, scope);
      }),
    );
  };
}

const whose =
  "Of the distributor's own records, and by containments of makers on units that it has recorded something of.";
const whenOverdue =
  'Overdue is what the edition of the record gives no more time for (demands.dueWithin), else what is older than 30 days. What is due by a containment is overdue as that says (dueWithin), and as its reach tells it.';

function getHeld(app: App, rest: Rest): void {
  const shared = { tags: ['records'], description: whose };
  rest.get(
    '/v1/held',
    {
      schema: {
        ...{ ...shared, operationId: 'listHeld', summary: 'What holds units, and what would clear it' },
        querystring: z.strictObject({ ...filters, ...pageQuery }),
        response: { 200: knownPageOf(items.hold, 'Those of the oldest record first') },
      },
    },
    async (request) => {
      const { first, after = null, ...asked } = request.query;
      return await listHeld(app, askerOf(request), soughtIn(asked), { first, after });
    },
  );
  rest.get(
    '/v1/held/counts',
    {
      schema: {
        ...{ ...shared, operationId: 'countHeld', summary: 'How much holds units, by shop, rule and age' },
        querystring: z.strictObject(filters),
        response: { 200: counts.hold },
      },
    },
    async (request) => await countHeld(app, askerOf(request), soughtIn(request.query)),
  );
}

function getDue(app: App, rest: Rest): void {
  const shared = { tags: ['records'], description: `${whose} ${whenOverdue}` };
  rest.get(
    '/v1/due',
    {
      schema: {
        ...{ ...shared, operationId: 'listDue', summary: 'What is due on units, and what would clear it' },
        querystring: z.strictObject({ ...dueFilters, ...pageQuery }),
        response: { 200: knownPageOf(items.due, 'Those of the oldest record first') },
      },
    },
    async (request) => {
      const { first, after = null, ...asked } = request.query;
      return await listDue(app, askerOf(request), soughtIn(asked), { first, after });
    },
  );
  rest.get(
    '/v1/due/counts',
    {
      schema: {
        ...{ ...shared, operationId: 'countDue', summary: 'How much is due on units, by shop, rule and age' },
        querystring: z.strictObject(dueFilters),
        response: { 200: counts.due },
      },
    },
    async (request) => await countDue(app, askerOf(request), soughtIn(request.query)),
  );
}

type Asked = Partial<z.infer<z.ZodObject<typeof dueFilters>>>;

function soughtIn(asked: Asked): Parameters<typeof listDue>[2] {
  const { shop, rule, kind, from, to, days, handedOver, overdue: late, overdueAfter } = asked;
  const known = lastOf(asked.known);
  return {
    ...(shop !== undefined && { shop }),
    ...(rule !== undefined && { rule }),
    ...(kind !== undefined && { kind }),
    ...(from !== undefined && { performedFrom: parseTime(from).from }),
    ...(to !== undefined && { performedTo: parseTime(to).from }),
    ...(days !== undefined && { olderThanDays: days }),
    ...(handedOver !== undefined && { handedOver: handedOver === 'true' }),
    ...(late !== undefined && { overdue: late === 'true' }),
    ...(overdueAfter !== undefined && { overdueAfter }),
    ...(known !== null && { known }),
  };
}
