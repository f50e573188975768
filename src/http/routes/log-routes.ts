/** The log for everybody: files as C2SP tlog-tiles names them, and proofs made of them. */
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { proveConsistency, proveOne, requirePublished } from '../../app/log/prove.ts';
import { followsPath } from '../../app/log/published.ts';
import { consistencySchema, inclusionSchema } from '../../core/log/proof.ts';
import { tileAt } from '../../core/log/tiles.ts';
import { Problem } from '../../errors.ts';
import type { Routes } from '../access.ts';

const immutable = 'public, max-age=31536000, immutable';
const size = z.coerce.number().int().min(0).max(Number.MAX_SAFE_INTEGER);

export function logRoutes(app: App): Routes {
  return (rest) => {
    rest.get(
      '/log/checkpoint',
      {
        schema: {
          ...{ operationId: 'readCheckpoint', summary: 'How far the log is published, signed', tags: ['log'] },
          description:
            'A signed note (C2SP tlog-checkpoint). The tree is under /log/tile/<level>/<number>, the entries under /log/tile/entries/<number> (C2SP tlog-tiles).',
          response: { 200: { description: 'The signed note', content: { 'text/plain': { schema: z.string() } } } },
        },
      },
      async (_, reply) => {
        const { note } = await requirePublished(app);
        return await reply.header('cache-control', 'public, max-age=1').type('text/plain; charset=utf-8').send(note);
      },
    );
    rest.get(
      '/log/follows',
      {
        schema: {
          ...{ operationId: 'readFollows', summary: 'Which log this one follows, signed', tags: ['log'] },
          description:
            'A signed note (C2SP signed-note) in lines: the name of this log, `follows`, the name, size and root of the last known checkpoint of the old one, and why. Not found where the log follows none.',
          response: { 200: { description: 'The signed note', content: { 'text/plain': { schema: z.string() } } } },
        },
      },
      async (_, reply) => {
        const note = await app.log.files.read(followsPath);
        if (note === null) throw new Problem('not-found', 'This log follows no other.');
        return await reply.type('text/plain; charset=utf-8').send(note.toString('utf8'));
      },
    );
    rest.get('/log/tile/*', { schema: { hide: true } }, async (request, reply) => {
      const path = `tile/${(request.params as { '*': string })['*']}`;
      const bytes = tileAt(path) === null ? null : await app.log.files.read(path);
      if (bytes === null) throw new Problem('not-found', 'The published log has no such tile.');
      return await reply.header('cache-control', immutable).type('application/octet-stream').send(bytes);
    });
    rest.get(
      '/log/inclusion/:entry',
      {
        schema: {
          ...{ operationId: 'proveInclusion', summary: 'That an entry is in the log', tags: ['log'] },
          params: z.strictObject({ entry: z.string().regex(/^[0-9a-f]{64}$/) }),
          response: { 200: inclusionSchema.meta({ description: 'The proof, against the checkpoint in it' }) },
        },
      },
      async (request) => await proveOne(app, request.params.entry),
    );
    rest.get(
      '/log/consistency',
      {
        schema: {
          ...{ operationId: 'proveConsistency', summary: 'That the log only grew', tags: ['log'] },
          querystring: z.strictObject({
            from: size.describe('The size of an older checkpoint'),
            to: size.optional().describe('The size of a newer one; left out: of the one that is published'),
          }),
          response: { 200: consistencySchema.meta({ description: 'The proof' }) },
        },
      },
      async (request) => await proveConsistency(app, request.query.from, request.query.to ?? null),
    );
  };
}
