/** Forward from a lot, a part, an instrument, a person or a period: the units that it reached. */
import { Readable } from 'node:stream';
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { everyUnitReached, findUnitsReached } from '../../app/find-reach.ts';
import { journalEach } from '../../app/journal-access.ts';
import { checkCriteria, reachShape } from '../../core/reach/criteria.ts';
import { stills } from '../../core/reach/still.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { prefers } from '../preferences.ts';
import { pageQuery } from './answers.ts';
import {
  count,
  described,
  instant,
  interval,
  knownPageOf,
  knownQuery,
  lastOf,
  list,
  status,
  unitName,
  uuid,
} from './common-shapes.ts';

export function reachRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope(['record:read', 'warranty:read'], (scope) => getReach(app, scope)));
  };
}

const use = z
  .strictObject({
    place: z.string().meta({ description: 'The station, or the joint of a seal' }),
    role: z.enum(['element', 'seal']),
    item: z.string().meta({ description: 'The element or seal' }),
    quantity: count,
    lot: z.string().nullable().meta({ description: 'MAKER/NUMBER that the record names for it' }),
    through: z.string().nullable().meta({
      description: 'MAKER/NUMBER of the lot of kits that it came in, where it was sought by its own lot',
    }),
    still: z.enum(['in', 'out', 'unknown']).meta({ description: 'Whether it is still in; always unknown of a seal' }),
  })
  .meta({ id: 'ReachUse', description: 'A part that went in, or was found in, by a record' });

export const reachItem = z
  .strictObject({
    unit: uuid,
    kind: z.enum(['pump', 'control']).nullable(),
    name: unitName,
    still: z.enum(stills).meta({
      description:
        'Of parts: now where one is still in, unknown where nobody can say of one, else once. Of records: now as long as a station, a setting or a mounting is as one of them left it',
    }),
    records: list(
      z
        .strictObject({ id: uuid, kind: z.string(), performed: interval, uses: list(use) })
        .meta({ id: 'ReachRecord', description: 'A record that matches; uses: the parts that do' }),
    ).meta({ description: 'In the order of work. What a correction replaced is not among them' }),
    doneSince: list(z.strictObject({ kind: z.string(), performed: interval })).meta({
      description: 'What was done to the unit after the last of these records, in the order of work',
    }),
    status: status.nullable().meta({ description: 'Of the unit, now' }),
    mounted: z
      .strictObject({ unit: uuid, name: unitName })
      .nullable()
      .meta({ description: 'What it is mounted on, or has on it, now' }),
    holder: z.strictObject({ distributor: z.string(), shop: z.string(), since: instant }).nullable().meta({
      description: 'Who has it, by the movement that last said so; null: nobody that you may know of said so',
    }),
    mergedInto: uuid.nullable().meta({ description: 'The unit that this one turned out to be' }),
  })
  .meta({ id: 'ReachItem', description: 'A unit that matching records were about' });

const ndjson = 'application/x-ndjson';
const json = 'application/json';

function getReach(app: App, rest: Rest): void {
  rest.get(
    '/v1/reach',
    {
      schema: {
        operationId: 'findReach',
        summary: 'The units that a lot, part, instrument, person, shop, edition or function reached',
        description,
        tags: ['units'],
        querystring: z.strictObject({ ...reachShape, ...knownQuery, ...pageQuery }).superRefine(checkCriteria),
        response: {
          200: {
            description: 'A page of units; as NDJSON all of them, a unit a line',
            content: {
              [json]: { schema: described<object>(knownPageOf(reachItem, 'By unit')) },
              [ndjson]: { schema: described<object>(reachItem) },
            },
          },
        },
      },
    },
    async (request, reply) => {
      const { first, after = null, known: asked, ...criteria } = request.query;
      const known = lastOf(asked);
      reply.header('vary', 'Accept');
      if (!prefers(request, ndjson, json))
        return await findUnitsReached(app, askerOf(request), criteria, { first, after }, known);
      const asker = askerOf(request);
      const pages = journalEach(app, asker, 'GET /v1/reach', await everyUnitReached(app, asker, criteria, known));
      return await reply.type(ndjson).send(Readable.from(linesOf(pages), { highWaterMark: 1 }));
    },
  );
}

/** A page as one text: little is held at a time, and no line is half sent. */
export async function* linesOf(
  pages: AsyncGenerator<readonly object[], void, undefined>,
): AsyncGenerator<string, void, undefined> {
  for await (const page of pages) yield page.map((item) => `${JSON.stringify(item)}\n`).join('');
}

const description = [
  'A record has to match everything that is named; what describes a part (lot, element, part) has to be true of one and the same part.',
  "Ids of instruments, technicians and shops are a distributor's own: the maker's people name the distributor too, or find whatever has that id.",
  'A period takes in work of which only the day or month is known, where any of it falls into the period.',
  'With "known" as it was known then.',
  'With Accept: application/x-ndjson all units are streamed, by no page; what is recorded meanwhile is in it or not.',
].join(' ');
