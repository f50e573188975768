/** A distributor's own records, all of them, streamed. */
import { Readable } from 'node:stream';
import type { FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { exportRecords } from '../../app/export-records.ts';
import type { RecordView } from '../../app/record-views.ts';
import { exactTimeSchema, parseTime } from '../../core/time/instant.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { exportedKinds } from '../bulk/line-kinds.ts';
import { csvHeader, csvOf, recordColumns } from '../bulk/record-csv.ts';
import { prefers } from '../preferences.ts';
import { described } from './common-shapes.ts';
import { recordAnswer } from './record-shapes.ts';

export function exportRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope(['record:read', 'report:read'], (scope) => getRecords(app, scope)));
  };
}

const mediaTypes = { ndjson: 'application/x-ndjson', csv: 'text/csv' } as const;
type Format = keyof typeof mediaTypes;

const time = (text: string) => exactTimeSchema.optional().describe(text);
const query = z.strictObject({
  format: z.enum(['ndjson', 'csv']).optional().describe('Before Accept; without either it is NDJSON'),
  kind: z
    .union([z.enum(exportedKinds), z.array(z.enum(exportedKinds))])
    .optional()
    .describe('One or several; without it all'),
  performedFrom: time('Work that ended then or later'),
  performedTo: time('Work that ended before then'),
  recordedFrom: time('Recorded then or later'),
  recordedTo: time('Recorded before then'),
});

function getRecords(app: App, rest: Rest): void {
  rest.get(
    '/v1/export/records',
    {
      schema: {
        operationId: 'exportRecords',
        summary: "A distributor's own records, as NDJSON or CSV",
        description,
        tags: ['records'],
        querystring: query,
        response: {
          200: {
            description: 'As NDJSON a record a line, as GET /v1/records/{id} gives it; as CSV a record a line too',
            content: {
              [mediaTypes.ndjson]: { schema: described<object>(recordAnswer) },
              [mediaTypes.csv]: { schema: described<object>(z.string()) },
            },
          },
        },
      },
    },
    async (request, reply) => {
      const { kind, performedFrom, performedTo, recordedFrom, recordedTo } = request.query;
      const at = (text: string | undefined) => (text === undefined ? null : parseTime(text).from);
      const records = exportRecords(app, askerOf(request), {
        kinds: kind === undefined ? exportedKinds : [kind].flat(),
        ...{ performedFrom: at(performedFrom), performedTo: at(performedTo) },
        ...{ recordedFrom: at(recordedFrom), recordedTo: at(recordedTo) },
      });
      const format = formatOf(request, request.query.format);
      reply.header('vary', 'Accept').header('content-disposition', `attachment; filename="records.${format}"`);
      reply.type(format === 'csv' ? `${mediaTypes.csv}; charset=utf-8; header=present` : mediaTypes.ndjson);
      return await reply.send(Readable.from(textsOf(records, format), { highWaterMark: 1 }));
    },
  );
}

function formatOf(request: FastifyRequest, asked: Format | undefined): Format {
  return asked ?? (prefers(request, mediaTypes.csv, mediaTypes.ndjson) ? 'csv' : 'ndjson');
}

async function* textsOf(
  pages: AsyncGenerator<RecordView[], void, undefined>,
  format: Format,
): AsyncGenerator<string, void, undefined> {
  if (format === 'csv') yield csvHeader();
  for await (const page of pages) {
    yield page.map((record) => (format === 'csv' ? csvOf(record) : `${JSON.stringify(record)}\n`)).join('');
  }
}

const description = [
  'Streamed in the order of ids. What is recorded meanwhile is in it or not; for what came since the last export ask with recordedFrom some seconds before its last recordedAt, and tell doubles by id.',
  'CSV is by RFC 4180, in UTF-8, with a header line. Where a field begins with =, +, -, @, a tab or a line break, an apostrophe stands before it, so that no spreadsheet runs it as a formula.',
  `Its columns: ${recordColumns.map(([name, says]) => `${name} (${says})`).join(', ')}.`,
].join(' ');
