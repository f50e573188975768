/** Every error leaves as application/problem+json (RFC 9457). */
import { STATUS_CODES } from 'node:http';
import type { Socket } from 'node:net';
import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { scopes } from '../app/asker.ts';
import { Problem, type ProblemCode, problemCodes } from '../errors.ts';
import { databaseFault } from './database-errors.ts';
import { finding } from './routes/common-shapes.ts';

declare module 'fastify' {
  interface FastifyRequest {
    /** The code of the problem that was answered, for the log. */
    problemCode: ProblemCode | null;
  }
}

export const problemMediaType = 'application/problem+json';

const codes = Object.keys(problemCodes) as [ProblemCode, ...ProblemCode[]];

/** The answer's shape. Some codes add members of their own, such as `findings`. */
export const problemSchema = z
  .looseObject({
    type: z.string().meta({ description: 'Where the code is explained: /problems/{code}' }),
    title: z.string(),
    status: z.int().min(400).max(599),
    detail: z.string().meta({ description: 'What was wrong here and what to do' }),
    code: z.enum(codes),
    requestId: z.string().meta({ description: "The same id as in the service's log" }),
    errors: z
      .array(
        z.union([
          z.strictObject({ pointer: z.string(), detail: z.string() }),
          z.strictObject({ parameter: z.string(), detail: z.string() }),
          z.strictObject({ header: z.string(), detail: z.string() }),
        ]),
      )
      .optional()
      .meta({
        description:
          'Of input: every wrong place, by JSON pointer (RFC 6901) into the body as sent, by parameter of path or query, or by header',
      }),
    findings: z.array(finding).optional().meta({ description: 'Of a refusal by the rules: every finding' }),
    recorded: z
      .record(z.string(), z.unknown())
      .optional()
      .meta({ description: 'Of a refusal or a registration that differs: what the records say instead' }),
    offered: z
      .array(z.string())
      .optional()
      .meta({ description: 'Where there is no such job: the functions that the unit can have' }),
    scopes: z
      .array(z.enum(scopes))
      .optional()
      .meta({ description: 'Of a token that lacks a scope: any one of these would do' }),
    failed: z
      .array(z.string())
      .optional()
      .meta({ description: 'Of a service that is not ready: the checks that failed' }),
  })
  .meta({ id: 'Problem', description: 'Problem details (RFC 9457)' });

/** Fastify's error handler. */
export function answerError(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const problem = toProblem(error);
  request.problemCode = problem.code;
  logFault(request, problem, error);
  // Bytes, because Fastify would append a charset, which the media type doesn't define.
  return reply
    .code(problemCodes[problem.code].status)
    .headers(problemHeaders(problem))
    .type(problemMediaType)
    .send(Buffer.from(JSON.stringify(problemBody(problem, request.id))));
}

/** For paths that the router can't read: no hook runs there, so the line of the log is written here. */
export function answerUnroutable(error: unknown, request: FastifyRequest, reply: FastifyReply): void {
  answerError(error, request, reply);
  request.log.info(
    { method: request.method, route: null, status: reply.statusCode, code: request.problemCode },
    'request',
  );
}

/** What the client is told of any error. Nothing of an unexpected one but that it happened. */
export function toProblem(error: unknown): Problem {
  if (error instanceof Problem) return error;
  if (isFastifyError(error)) {
    const [code, detail] = fastifyCodes[error.code] ?? ['malformed-request', 'The request could not be read.'];
    return new Problem(code, detail, { cause: error });
  }
  const fault = databaseFault(error);
  if (fault === 'database-unavailable') {
    return new Problem(fault, 'The database cannot be reached; repeat the request, with the same key if it has one.', {
      cause: error,
    });
  }
  if (fault === 'busy') {
    return new Problem(fault, 'The database gave up waiting; repeat the request, with the same key if it has one.', {
      cause: error,
    });
  }
  return new Problem('internal', 'The service failed; quote the request id to its operator.', { cause: error });
}

/** A failed check is logged where it failed; what gives way under load or outage is no bug. */
export function logFault(request: FastifyRequest, problem: Problem, error: unknown): void {
  const { status } = problemCodes[problem.code];
  if (status < 500 || problem.code === 'not-ready') return;
  const line = { err: error, code: problem.code };
  if (status === 503) request.log.warn(line, 'request not served');
  else request.log.error(line, 'request failed');
}

/** Connections on which an upload is under way that may take longer than the limit for a request. */
export const longUploads = new WeakSet<Socket>();

/** Node's own parser found no request it could hand on, so there is no reply to answer with. */
export function answerClientError(error: Error & { code?: string }, socket: Socket, requestId: string): void {
  if (error.code === 'ERR_HTTP_REQUEST_TIMEOUT' && longUploads.has(socket)) return;
  if (error.code === 'ECONNRESET' || !socket.writable) {
    socket.destroy(error);
    return;
  }
  const [code, detail] = (error.code === undefined ? undefined : clientErrorCodes[error.code]) ?? [
    'malformed-request',
    'The request is not valid HTTP.',
  ];
  const { status } = problemCodes[code];
  const body = JSON.stringify(problemBody(new Problem(code, detail), requestId));
  socket.end(
    `HTTP/1.1 ${status} ${STATUS_CODES[status]}\r\nContent-Type: ${problemMediaType}\r\n` +
      `Content-Length: ${Buffer.byteLength(body)}\r\nConnection: close\r\n\r\n${body}`,
  );
}

/** The document that tells of a problem. */
export function problemBody(problem: Problem, requestId: string): z.input<typeof problemSchema> {
  const { status, title } = problemCodes[problem.code];
  const standard = {
    type: `/problems/${problem.code}`,
    title,
    status,
    detail: problem.detail,
    code: problem.code,
    requestId,
    ...(problem.errors === undefined ? {} : { errors: [...problem.errors] }),
  };
  // First, because people read them first; last, because nothing displaces them.
  return { ...standard, ...problem.extra, ...standard };
}

function problemHeaders(problem: Problem): Record<string, string> {
  const { retryAfter } = problemCodes[problem.code];
  return { ...(retryAfter === undefined ? {} : { 'retry-after': String(retryAfter) }), ...problem.headers };
}

type Told = readonly [ProblemCode, string];

const fastifyCodes: Readonly<Record<string, Told>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: ['body-too-large', 'The body is longer than this operation takes; send less at once.'],
  FST_ERR_CTP_INVALID_MEDIA_TYPE: ['unsupported-media-type', 'Send the body as application/json.'],
  FST_ERR_CTP_EMPTY_TYPE: ['unsupported-media-type', 'Send the body as application/json.'],
  FST_ERR_ROUTE_MISSING_CONTENT_TYPE: ['unsupported-media-type', 'Send the body as application/json.'],
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: ['malformed-request', 'The body is not as long as Content-Length says.'],
  FST_ERR_BAD_URL: ['malformed-request', 'The path holds a percent escape that is not valid UTF-8.'],
  FST_ERR_MAX_PARAM_LENGTH: ['path-too-long', 'A part of the path is too long; no name here is that long.'],
};

const clientErrorCodes: Readonly<Record<string, Told>> = {
  ERR_HTTP_REQUEST_TIMEOUT: ['request-timeout', 'The request did not arrive whole in time; send it again.'],
  HPE_HEADER_OVERFLOW: ['headers-too-large', 'The headers are too long; a token should be a few hundred characters.'],
};

/** Fastify's own complaints about a request, and a body that broke off, which it marks by the status alone. */
function isFastifyError(error: unknown): error is FastifyError {
  if (!(error instanceof Error && 'code' in error && typeof error.code === 'string' && 'statusCode' in error))
    return false;
  if (error.code === 'ECONNRESET') return error.statusCode === 400;
  return error.code.startsWith('FST_') && typeof error.statusCode === 'number' && error.statusCode < 500;
}
