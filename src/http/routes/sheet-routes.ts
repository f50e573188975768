/** Job sheets of conversions and mountings, as JSON or as a page to print. */
import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { planConversionOf, planMountingOf } from '../../app/plan-job.ts';
import { editionNamed } from '../../app/read-edition.ts';
import { id, place } from '../../core/catalogue/edition.ts';
import type { Sheet } from '../../core/fit/sheet.ts';
import { builtFor } from '../../core/records/parts.ts';
import { sheetPage } from '../../pages/sheet-page.ts';
import { askerOf, type Rest } from '../access.ts';
import { languageQuery, languagesWanted, orAsPage, unitsQuery, unitsWanted, wantsPage } from '../preferences.ts';
import { sendPage } from '../send-page.ts';
import { inUnits, ownIdParam, unitKinds, unitParams } from './answers.ts';
import { described } from './common-shapes.ts';
import { sheetAnswer } from './sheet-shapes.ts';

const shopQuery = {
  shop: ownIdParam.optional().describe('Your shop that does the work: its shelf and its instruments are counted in'),
};

export function jobSheets(app: App, rest: Rest): void {
  const query = z.strictObject({
    function: id,
    choice: z
      .union([choiceQuery(), z.array(choiceQuery()).max(50)])
      .optional()
      .describe('STATION:ELEMENT, once or several times'),
    ...builtFor.shape,
    edition: id.optional(),
    ...shopQuery,
    ...languageQuery,
    ...unitsQuery,
  });
  for (const { kind, path } of unitKinds) {
    rest.get(
      `${path}/job-sheet`,
      {
        schema: {
          operationId: kind === 'pump' ? 'planConversionOnPump' : 'planConversion',
          summary: `What a conversion of this ${kind === 'pump' ? "pump's control" : 'control'} takes`,
          description: orAsPage,
          tags: ['units'],
          params: unitParams,
          querystring: query,
          response: { 200: described<{ sheet: string }>(sheetAnswer) },
        },
      },
      async (request, reply) => {
        const { maker, serial } = request.params;
        const { choice = [], size, rotation, voltage, edition = null, shop = null, function: fun } = request.query;
        const choices = Object.fromEntries([choice].flat().map((one) => one.split(':') as [string, string]));
        const sheet = await planConversionOf(app, askerOf(request), {
          kind,
          maker,
          name: serial,
          function: fun,
          choices,
          builtFor: { ...(size && { size }), ...(rotation && { rotation }), ...(voltage && { voltage }) },
          edition,
          shop,
          languages: languagesWanted(request),
        });
        return await sendSheet(app, request, reply, sheet);
      },
    );
  }
  rest.get(
    '/v1/controls/:maker/:serial/mounting-sheet',
    {
      schema: {
        operationId: 'planMounting',
        summary: 'What mounting this control on a pump takes',
        description: orAsPage,
        tags: ['units'],
        params: unitParams,
        querystring: z.strictObject({
          pump: z.string().regex(/^[a-z0-9][a-z0-9.-]*\/.+$/, { error: 'name the pump as MAKER/SERIAL' }),
          edition: id.optional(),
          ...shopQuery,
          ...languageQuery,
          ...unitsQuery,
        }),
        response: { 200: described<{ sheet: string }>(sheetAnswer) },
      },
    },
    async (request, reply) => {
      const { maker, serial } = request.params;
      const { pump, edition = null, shop = null } = request.query;
      const at = pump.indexOf('/');
      const sheet = await planMountingOf(app, askerOf(request), {
        kind: 'control',
        maker,
        name: serial,
        pump: { maker: pump.slice(0, at), name: pump.slice(at + 1) },
        edition,
        shop,
        languages: languagesWanted(request),
      });
      return await sendSheet(app, request, reply, sheet, true);
    },
  );
}

function choiceQuery() {
  return z.string().refine((text) => {
    const [station, element, ...more] = text.split(':');
    return more.length === 0 && place.safeParse(station).success && id.safeParse(element).success;
  }, 'write STATION:ELEMENT');
}

/** In the languages and units asked for; a page where one is wanted more than JSON. */
async function sendSheet(app: App, request: FastifyRequest, reply: FastifyReply, sheet: Sheet, mounting = false) {
  reply.header('vary', 'Accept, Accept-Language');
  if (!wantsPage(request)) return reply.header('content-language', sheet.language).send(inUnits(request, sheet));
  const edition = await editionNamed(app, sheet.control.maker, sheet.edition);
  return sendPage(reply, sheetPage(sheet, { edition, units: unitsWanted(request), mounting }));
}
