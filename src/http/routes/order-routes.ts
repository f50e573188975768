/** The lead's question: which units and kits in stock serve an order. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { listOptions } from '../../app/list-options.ts';
import { id, rotation } from '../../core/catalogue/edition.ts';
import { exactTimeSchema, parseTime } from '../../core/time/instant.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { languageQuery, languagesWanted, unitsQuery } from '../preferences.ts';
import { inUnits, ownIdParam, pageQuery, slugParam } from './answers.ts';
import { held, instant, list, pageOf, unitName, uuid } from './common-shapes.ts';
import { kitList, need, sheetAnswer } from './sheet-shapes.ts';

const endOf = (day: string) => `${day}T23:59:59Z`;

const query = z.strictObject({
  function: id.describe('That the order asks for'),
  series: id.optional(),
  size: id.optional().describe('Of the pump that it is for'),
  rotation: rotation.optional(),
  voltage: id.optional(),
  by: z.iso
    .date()
    .refine((day) => exactTimeSchema.safeParse(endOf(day)).success, { error: 'a day of the years 1900 to 2999' })
    .optional()
    .describe('The day by whose end it must be done: what may not be used any more by then is not on the shelf'),
  unit: z.enum(['control', 'pump']).optional().describe('A control alone, or a pump with its control; left out: both'),
  shop: ownIdParam.optional().describe('Left out: every shop of yours'),
  maker: slugParam.optional().describe('Whose function it is; may be left out where only one has published editions'),
  edition: id.optional(),
  ...languageQuery,
  ...unitsQuery,
  ...pageQuery,
});

const whole = z.number().meta({ type: 'integer', minimum: 0 });
const stockUnit = z
  .strictObject({
    ...{ unit: uuid, name: unitName, function: z.string().nullable() },
    status: z.enum(['released', 'incomplete', 'held']),
    findings: list(z.string()).meta({ description: 'Rules by which something holds or is due' }),
    since: instant.meta({ description: 'When it came in, or was first seen' }),
    custody: z.enum(['stated', 'registered']).meta({
      description: 'stated: a movement brought it in; registered: it was seen there, and nothing says where it is now',
    }),
  })
  .meta({ id: 'StockUnit' });
const option = z
  .strictObject({
    id: z.string().meta({ description: 'Of the place in this list' }),
    shop: z.string(),
    control: stockUnit,
    pump: stockUnit.nullable().meta({ description: 'Null: the control alone' }),
    mounts: z.boolean().meta({ description: 'The control is to be put on the pump' }),
    unit: z.string().nullable().meta({ description: 'Where the unit to work on is read; its job sheet is below it' }),
    held: z.boolean(),
    work: z
      .strictObject({ steps: whole, joints: whole, settings: whole, checks: whole })
      .meta({ description: 'All 0: it is so already' }),
    cost: z
      .number()
      .nullable()
      .meta({ description: 'Of the kits, from the shelf and bought; null: not known of one of them' }),
    kits: kitList.meta({ description: 'From the shelf of the shop' }),
    pieces: list(held).meta({ description: 'Loose, from the shelf of the shop' }),
    leftOver: list(held),
    buy: z
      .strictObject({ kits: kitList, loose: list(need), cost: z.number().nullable() })
      .meta({ description: 'What its shelf does not give' }),
    toBuy: whole.meta({ description: 'How many pieces its shelf does not give' }),
  })
  .meta({ id: 'OrderOption', description: 'A unit in stock that serves the order, with what that takes there' });
const { items, pageInfo } = pageOf(option, 'The best first').shape;
const answer = z
  .strictObject({
    edition: z.string(),
    at: instant.meta({ description: 'The time that the shelves and instruments are asked for' }),
    best: z
      .strictObject({ id: z.string(), conversion: sheetAnswer, mounting: sheetAnswer.nullable() })
      .nullable()
      .meta({ description: 'The job sheets of the first; null: nothing serves, or this is a later page' }),
    ...{ items, pageInfo },
  })
  .meta({ id: 'OrderOptions', description: 'What serves the order, the best first and with its job sheets' });

export function orderRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('record:read', (scope) => getOptions(app, scope)));
  };
}

function getOptions(app: App, rest: Rest): void {
  rest.get(
    '/v1/orders/options',
    {
      schema: {
        ...{ operationId: 'listOrderOptions', summary: 'Which units and kits in stock serve an order' },
        description:
          'Held units come last; then first what takes the fewest pieces that must be bought, the fewest steps of work, the cheapest kits and the fewest of them.',
        ...{ tags: ['stock'], querystring: query, response: { 200: answer } },
      },
    },
    async (request) => {
      const {
        first,
        after = null,
        by,
        unit = null,
        shop = null,
        maker = null,
        edition = null,
        ...asked
      } = request.query;
      const { function: fun, series, size, rotation: turning, voltage } = asked;
      const order = { function: fun, series, size, rotation: turning, voltage };
      const found = await listOptions(
        app,
        askerOf(request),
        {
          ...{ ...order, unit, shop, maker, edition },
          by: by === undefined ? null : parseTime(endOf(by)).to,
          languages: languagesWanted(request),
        },
        { first, after },
      );
      return inUnits(request, found);
    },
  );
}
