/** The log: JSON lines of what is allowed to be logged, which is never a header, a body, a query, a path with its values or a database's message. */
import { LogController } from 'fastify';
import { type DestinationStream, type LevelWithSilent, type Logger, pino, stdTimeFunctions } from 'pino';
import { isDatabaseError } from './database-errors.ts';

/** The service's logger. Without a destination it writes to standard output. */
export function makeLogger(options: { level: LevelWithSilent; destination?: DestinationStream }): Logger {
  return pino(
    { level: options.level, timestamp: stdTimeFunctions.isoTime, serializers: { req, res, err } },
    options.destination ?? pino.destination(1),
  );
}

/** One line per request, when it is done. The route stands for the path: serials and slugs belong to those who sent them. */
export class RequestLog extends LogController {
  constructor() {
    super({ requestIdLogLabel: 'requestId' });
  }

  override incomingRequest(): void {}

  override requestCompleted(...[error, request, reply]: Parameters<LogController['requestCompleted']>): void {
    const line = {
      method: request.method,
      route: request.routeOptions.url ?? null,
      status: reply.statusCode,
      ms: Math.round(reply.elapsedTime * 10) / 10,
      ...(request.problemCode === null ? {} : { code: request.problemCode }),
    };
    if (error) reply.log.warn({ ...line, err: error }, 'request broke off');
    else reply.log[isProbe(line) ? 'debug' : 'info'](line, 'request');
  }
}

/** Asked every few seconds for as long as the service lives; one that fails is worth a line. */
function isProbe({ route, status }: { readonly route: string | null; readonly status: number }): boolean {
  return status < 400 && ['/livez', '/readyz', '/startupz'].includes(route ?? '');
}

type Named = { method?: unknown; routeOptions?: { url?: unknown } };

function req(request: Named): object {
  return { method: request.method, route: request.routeOptions?.url ?? null };
}

function res(reply: { statusCode?: unknown }): object {
  return { status: reply.statusCode };
}

/** A database's message and its `detail` repeat values that were sent, so only where it happened is kept. */
function err(error: unknown, depth = 0): unknown {
  if (!(error instanceof Error)) return { type: typeof error };
  const code = 'code' in error ? { code: error.code } : {};
  const cause = error.cause === undefined || depth > 3 ? {} : { cause: err(error.cause, depth + 1) };
  const frames = (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line));
  if (isDatabaseError(error)) {
    const { table, column, constraint, routine } = error;
    return { type: error.name, ...code, table, column, constraint, routine, stack: frames.join('\n'), ...cause };
  }
  return { type: error.name, ...code, message: error.message, stack: frames.join('\n'), ...cause };
}
