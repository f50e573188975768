/** How facts are asked for and answered over HTTP. */
import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { App } from '../../app/context.ts';
import { type FactAnswer, type FactRequest, recordFact } from '../../app/record-fact.ts';
import type { Asked } from '../../app/recording/request.ts';
import { withDisplays } from '../../core/quantity/add-display.ts';
import { ownId, slug } from '../../core/records/parts.ts';
import { exactTimeSchema, parseTime } from '../../core/time/instant.ts';
import { askerOf } from '../access.ts';
import { readIdempotencyKey } from '../idempotency-key.ts';
import { unitsWanted } from '../preferences.ts';

export const slugParam = slug;
export const ownIdParam = ownId;
/** A serial or number in a path: as written, up to 64 characters. */
export const nameParam = z.string().trim().min(1).max(64);
export const unitParams = z.strictObject({ maker: slugParam, serial: nameParam });
export const unitKinds = [
  { kind: 'pump', path: '/v1/pumps/:maker/:serial' },
  { kind: 'control', path: '/v1/controls/:maker/:serial' },
] as const;

export const pageQuery = {
  first: z.coerce.number().int().min(1).max(200).default(50),
  after: z.string().max(200).optional(),
};
export const atQuery = {
  at: exactTimeSchema.optional().describe('The time for which it is asked; left out: now'),
};
/** The instant of `atQuery`; null: now. */
export function instantIn({ at }: { readonly at?: string | undefined }): string | null {
  return at === undefined ? null : parseTime(at).from;
}
/** Where nothing can be asked: a `check=only` that went unread would write what should only be judged. */
export const noQuery = z.strictObject({});
export const checkQuery = z.strictObject({
  check: z
    .literal('only')
    .optional()
    .describe('Judge and write nothing: the answer is what recording would be answered, without id and receipt'),
});

/** A POST that keeps a fact, under its Idempotency-Key; with `?check=only` it needs none and keeps nothing. */
export async function postFact(
  app: App,
  request: FastifyRequest,
  reply: FastifyReply,
  asked: Asked,
): Promise<FastifyReply> {
  const checkOnly = (request.query as { check?: 'only' }).check === 'only';
  const key = checkOnly ? null : readIdempotencyKey(request.headers);
  return await answer(app, reply, { ...asked, ...frameOf(request), key, checkOnly });
}

/** A PUT that keeps a fact: its path says what it is, so the same again changes nothing. */
export async function putFact(
  app: App,
  request: FastifyRequest,
  reply: FastifyReply,
  asked: Asked,
): Promise<FastifyReply> {
  return await answer(app, reply, { ...asked, ...frameOf(request), key: null });
}

/** An answer that is read, with its readings in the units asked for beside them. */
export function inUnits<Answer>(request: FastifyRequest, answer: Answer): Answer {
  const units = unitsWanted(request);
  return units === null ? answer : withDisplays(answer, units);
}

function frameOf(request: FastifyRequest): Pick<FactRequest, 'asker' | 'sent' | 'route'> {
  const path = request.url.split('?')[0] ?? '';
  return { asker: askerOf(request), sent: request.sent, route: `${request.method} ${path}` };
}

/** The bytes are the service's own JSON text, kept with the key: they go out as they are, and no shape slows them. */
async function answer(app: App, reply: FastifyReply, asked: FactRequest): Promise<FastifyReply> {
  return await sendAnswer(reply, await recordFact(app, asked));
}

export async function sendAnswer(reply: FastifyReply, { status, body, replayed }: FactAnswer): Promise<FastifyReply> {
  if (replayed) reply.header('idempotency-replayed', 'true');
  return reply
    .code(status)
    .type('application/json; charset=utf-8')
    .serializer((text: unknown) => String(text))
    .send(body);
}
