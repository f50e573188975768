/** Many facts in one request: a line each, and an answer to each. */
import { PassThrough, Readable } from 'node:stream';
import type { FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { App } from '../../app/context.ts';
import { Problem } from '../../errors.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { recordUpload, uploadLimits } from '../bulk/record-upload.ts';
import { longUploads } from '../problems.ts';
import { zodValidator } from '../zod-validation.ts';
import { checkQuery } from './answers.ts';
import { bulkLine, lineOutcome } from './bulk-shapes.ts';
import { described } from './common-shapes.ts';

export function bulkRoutes(app: App): Routes {
  return (rest) => {
    rest.register(
      withScope(['record:write', 'stock:write', 'organisation:write', 'disposition:write'], (scope) =>
        postLines(app, scope),
      ),
    );
  };
}

/** Milliseconds. */
const lastWord = 1_000;
const mediaType = 'application/x-ndjson';

function postLines(app: App, rest: Rest): void {
  takeLinesOnly(rest);
  // The body is a stream; its lines are read one by one, each against the schema of its kind.
  rest.setValidatorCompiler<z.ZodType>((route) => (route.httpPart === 'body' ? readStream : zodValidator(route)));
  const turns = takeTurns();
  const under = new Set<PassThrough>();
  rest.addHook('preClose', async () => {
    for (const body of under)
      body.destroy(new Problem('busy', 'The service is stopping; send the rest of the lines again.'));
  });
  rest.post(
    '/v1/bulk',
    {
      schema: {
        operationId: 'recordLines',
        summary: 'Record many facts, a line each',
        description,
        tags: ['records'],
        consumes: [mediaType],
        produces: [mediaType],
        querystring: checkQuery,
        body: bulkLine,
        response: { 200: described<object>(lineOutcome) },
      },
    },
    async (request, reply) => {
      const done = turns.begin(askerOf(request).organisations.distributor);
      const body = apart(request.body as unknown as Readable);
      const { socket } = request.raw;
      under.add(body);
      longUploads.add(socket);
      reply.raw.once('close', () => {
        under.delete(body);
        longUploads.delete(socket);
        done();
      });
      // An upload that was ended early would go on coming; its sender has a moment to read why.
      reply.raw.once('finish', () => {
        if (!body.readableEnded) setTimeout(() => request.raw.destroy(), lastWord).unref();
      });
      const lines = recordUpload(app, { request, body, checkOnly: request.query.check === 'only' });
      return await reply.type(mediaType).send(Readable.from(lines, { highWaterMark: 1 }));
    },
  );
}

function readStream(data: unknown): { value: Readable } | { error: Problem } {
  if (data instanceof Readable) return { value: data };
  const errors = [{ pointer: '', detail: 'is required: lines of JSON' }];
  return { error: new Problem('invalid-input', `The request has no body. ${notLines().detail}`, { errors }) };
}

/** The body as a stream that can be ended without ending the connection, on which the answer still goes out. */
function apart(body: Readable): PassThrough {
  const lines = new PassThrough();
  // Whoever reads the lines hears of an error; when nobody does, it must not end the process.
  lines.on('error', () => {});
  body.once('error', (error) => lines.destroy(error));
  body.once('close', () => {
    if (!body.readableEnded) lines.destroy(new Error('the upload broke off'));
  });
  return body.pipe(lines);
}

/** Hands the body on as it comes, unread. */
function takeLinesOnly(rest: Rest): void {
  rest.removeAllContentTypeParsers();
  rest.addContentTypeParser(mediaType, (request, body, done) => {
    done(refusalOf(request), body);
  });
  rest.addContentTypeParser('*', (_, __, done) => done(notLines()));
}

function refusalOf({ headers }: FastifyRequest): Problem | null {
  const coding = headers['content-encoding'];
  if (coding !== undefined && coding.toLowerCase() !== 'identity')
    return new Problem('unsupported-media-type', 'Send the body without Content-Encoding.');
  return Number(headers['content-length'] ?? 0) > uploadLimits.body
    ? new Problem('body-too-large', 'Send the lines as several uploads.')
    : null;
}

function notLines(): Problem {
  return new Problem('unsupported-media-type', `Send the body as ${mediaType}: one line of JSON for every record.`);
}

/** So many uploads at once, and no more of one distributor: benches record over the same connections. */
function takeTurns() {
  const under = new Map<string, number>();
  const add = (owner: string, by: number) => under.set(owner, (under.get(owner) ?? 0) + by);
  return {
    begin: (distributor: string | null): (() => void) => {
      if (distributor === null) throw new Problem('forbidden', 'The token must name its distributor.');
      const all = [...under.values()].reduce((sum, count) => sum + count, 0);
      if (all >= uploadLimits.atOnce || (under.get(distributor) ?? 0) >= uploadLimits.atOnceOfOne)
        throw new Problem('busy', 'Other uploads are under way; send this one when one of them is done.');
      add(distributor, 1);
      return () => add(distributor, -1);
    },
  };
}

const description = [
  `Each line is a JSON object of at most ${uploadLimits.line / 1024} KiB: its key, its kind, what names its place where its own route has it in the path, and the body that this route takes.`,
  'Each line is answered by a line, in order: problems of one never touch another. Lines are recorded in the order sent, so that a line may build on those before it.',
  'Send the same file again after a cut: lines that were recorded are answered as then, with "replayed": true. A key means the same here and at the route of its kind.',
  'With check=only every line is judged against what is recorded, not against the lines before it, and nothing is written; one that was recorded under its key is answered as then.',
  'Read the answer while you send: who reads nothing is soon sent nothing more, and gets no more read. A program that cannot do both at once sends some 500 lines a request.',
].join(' ');
