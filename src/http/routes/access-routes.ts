/** What the maker's people were shown of a distributor's records. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { journalAccess, readJournal } from '../../app/journal-access.ts';
import { exactTimeSchema, parseTime } from '../../core/time/instant.ts';
import { askerOf, type Routes, withScope } from '../access.ts';
import { pageQuery } from './answers.ts';
import { instant, list, pageOf, uuid } from './common-shapes.ts';

const access = z
  .strictObject({
    ...{ id: uuid, at: instant, maker: z.string() },
    operation: z.string().meta({ description: 'What was asked: method and route' }),
    facts: list(uuid).meta({ description: 'Of yours that were read for the answer: records, and facts beside them' }),
  })
  .meta({ id: 'Access', description: 'A read by the people of a maker that showed something of yours' });
const query = z.strictObject({
  from: exactTimeSchema.optional().describe('Then or later'),
  to: exactTimeSchema.optional().describe('Before then'),
  ...pageQuery,
});
const page = pageOf(access, 'The latest first');

export function accessRoutes(app: App): Routes {
  return (rest) => {
    rest.register(
      withScope('record:read', (scope) => {
        const schema = {
          ...{ operationId: 'listAccesses', summary: "What the maker's people were shown of your records" },
          description: 'Every such read is written here before it is answered.',
          ...{ tags: ['records'], querystring: query, response: { 200: page } },
        };
        scope.get('/v1/accesses', { schema }, async (request) => {
          const { from, to, first, after = null } = request.query as z.output<typeof query>;
          const at = (text: string | undefined) => (text === undefined ? null : parseTime(text).from);
          return await readJournal(app, askerOf(request), { from: at(from), to: at(to) }, { first, after });
        });
      }),
    );
  };
}

/** Before an answer goes out, to a maker's people, what it was made of is journalled; an answer that failed shows nothing. */
export function journalled(app: App): Routes {
  return (rest) => {
    rest.addHook('onSend', async (request, reply, payload) => {
      const { asker } = request;
      if (asker !== null && asker.shown.size > 0 && reply.statusCode < 400)
        await journalAccess(app, asker, `${request.method} ${request.routeOptions.url ?? ''}`);
      return payload;
    });
  };
}
