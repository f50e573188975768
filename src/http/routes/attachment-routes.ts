/** Files beside records: taken in by content, given back as they came. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { keepAttachment } from '../../app/keep-attachment.ts';
import { readAttachment } from '../../app/read-attachment.ts';
import { attachmentDigest, attachmentTypes, largestAttachment } from '../../core/records/attachment.ts';
import { Problem } from '../../errors.ts';
import { askerOf, type Rest, type Routes, withScope } from '../access.ts';
import { noQuery, sendAnswer } from './answers.ts';
import { attachmentOutcome } from './record-shapes.ts';

export function attachmentRoutes(app: App): Routes {
  return (rest) => {
    rest.register(withScope('record:write', (scope) => postAttachment(app, scope)));
    rest.register(withScope(['record:read', 'warranty:read'], (scope) => getAttachment(app, scope)));
  };
}

const content = z.custom<Buffer>((value) => Buffer.isBuffer(value) && value.length > 0, {
  error: 'the body is the content of the file, and is not empty',
});
const binary = { type: 'string', format: 'binary' } as const;

function postAttachment(app: App, rest: Rest): void {
  rest.removeAllContentTypeParsers();
  rest.addContentTypeParser<Buffer>(attachmentTypes, { parseAs: 'buffer' }, (_, bytes, done) => done(null, bytes));
  rest.addContentTypeParser('*', (_, __, done) =>
    done(new Problem('unsupported-media-type', `Send the file itself, as one of ${attachmentTypes.join(', ')}.`)),
  );
  rest.post(
    '/v1/attachments',
    {
      bodyLimit: largestAttachment,
      schema: {
        operationId: 'keepAttachment',
        summary: 'Take in a picture or paper, to be named by records',
        description: `At most ${largestAttachment / 1024 / 1024} MiB. The same content again is answered as the first time.`,
        tags: ['records'],
        consumes: attachmentTypes,
        querystring: noQuery,
        body: content.meta(binary),
        response: { 200: attachmentOutcome, 201: attachmentOutcome },
      },
    },
    async (request, reply) => {
      const said = (request.headers['content-type'] ?? '').split(';')[0]?.trim().toLowerCase() ?? '';
      const route = `${request.method} /v1/attachments`;
      return await sendAnswer(reply, await keepAttachment(app, askerOf(request), { bytes: request.body, said, route }));
    },
  );
}

function getAttachment(app: App, rest: Rest): void {
  rest.get(
    '/v1/attachments/:digest',
    {
      schema: {
        operationId: 'readAttachment',
        summary: 'A file that was taken in, as it was',
        description:
          "By the distributor that took it in. The maker's people get what a claim of their make, or its evidence, names; each such read is journalled.",
        tags: ['records'],
        params: z.strictObject({ digest: attachmentDigest }),
        querystring: noQuery,
        produces: attachmentTypes,
        response: { 200: z.custom<Buffer>().meta({ ...binary, description: 'The file, byte for byte' }) },
      },
    },
    async (request, reply) => {
      const { digest } = request.params;
      const { mediaType, bytes } = await readAttachment(app, askerOf(request), digest);
      return await reply
        .type(mediaType)
        .header('content-disposition', `attachment; filename="${digest.slice(7, 23)}"`)
        .header('content-security-policy', "default-src 'none'; sandbox")
        .header('x-content-type-options', 'nosniff')
        .header('etag', `"${digest}"`)
        .serializer((body: unknown) => body as string)
        .send(bytes);
    },
  );
}
