/** The HTTP server. Reads as a table of contents: limits, then what every request passes, then routes. */
import { randomUUID } from 'node:crypto';
import type { Socket } from 'node:net';
import { type FastifyInstance, fastify } from 'fastify';
import { serializerCompiler, type ZodTypeProvider } from 'fastify-type-provider-zod';
import type { Logger } from 'pino';
import { Problem } from '../errors.ts';
import { publicRoutes, type Rest, type Routes, requireDeclaredAccess } from './access.ts';
import type { Authenticate } from './authenticate.ts';
import { closeInTime } from './close-in-time.ts';
import { type Checks, healthRoutes } from './health.ts';
import { takeJsonOnly } from './json-body.ts';
import { RequestLog } from './logger.ts';
import { describeRoutes, openApiRoute } from './openapi.ts';
import { answerClientError, answerError, answerUnroutable } from './problems.ts';
import { type PublicKeys, publicFactRoutes } from './public-facts.ts';
import { answerUnknownRoutes } from './unknown-routes.ts';
import { zodValidator } from './zod-validation.ts';

export type ServerOptions = {
  readonly logger: Logger;
  /** Ranges of proxies that may say where a request comes from. Never a number of hops: whoever can reach the port could pose as one. */
  readonly trustProxy: readonly string[];
  readonly authenticate: Authenticate;
  readonly checks: { readonly ready: Checks; readonly started: Checks };
  readonly publicKeys: PublicKeys;
  /** The REST routes of the use cases, each wrapped in `withScope` or `publicRoutes`. */
  readonly routes: Routes;
};

/** Times in milliseconds, sizes in bytes. */
export const limits = Object.freeze({
  /** To receive a request whole: the largest body over a slow line. */
  requestTimeout: 30_000,
  headersTimeout: 10_000,
  /** A socket on which nothing moves, which is also the longest that an answer may take. */
  connectionTimeout: 60_000,
  /** Longer than the 60 s after which proxies commonly drop idle connections (common practice), so that they close first. */
  keepAliveTimeout: 72_000,
  /** A record with every reading is some 30 KiB. A route that takes more says so itself. */
  bodyLimit: 256 * 1024,
  maxHeaderSize: 16 * 1024,
  /** Characters of one part of a path: a serial is at most 100, percent-encoded or not. */
  maxParamLength: 200,
});

export function buildServer(options: ServerOptions): FastifyInstance {
  const app = fastify({
    requestTimeout: limits.requestTimeout,
    connectionTimeout: limits.connectionTimeout,
    keepAliveTimeout: limits.keepAliveTimeout,
    bodyLimit: limits.bodyLimit,
    // Node's own answer to a request without Host is no problem+json: `answerByOurselves` gives ours.
    http: { headersTimeout: limits.headersTimeout, maxHeaderSize: limits.maxHeaderSize, requireHostHeader: false },
    routerOptions: { maxParamLength: limits.maxParamLength },
    trustProxy: options.trustProxy.length === 0 ? false : [...options.trustProxy],
    // Fastify's own answer while closing is no problem+json: `closeInTime` gives ours.
    return503OnClosing: false,
    // Ids from outside could forge a log.
    requestIdHeader: false,
    genReqId: () => randomUUID(),
    loggerInstance: options.logger,
    logController: new RequestLog(),
    frameworkErrors: answerUnroutable,
    clientErrorHandler: (error, socket) => answerClientError(error, socket as Socket, randomUUID()),
  }) as unknown as FastifyInstance;

  app.setErrorHandler(answerError);
  app.decorateRequest('problemCode', null);
  app.decorate('authenticate', options.authenticate);
  nameRequests(app);
  answerByOurselves(app);
  closeInTime(app);
  answerUnknownRoutes(app);
  requireDeclaredAccess(app);
  takeJsonOnly(app);

  app.register(async (scope) => {
    const rest: Rest = scope.withTypeProvider<ZodTypeProvider>();
    rest.setValidatorCompiler(zodValidator);
    rest.setSerializerCompiler(serializerCompiler);
    await describeRoutes(rest);
    rest.register(publicRoutes(healthRoutes(options.checks)));
    rest.register(publicRoutes(publicFactRoutes(options.publicKeys)));
    rest.register(publicRoutes(openApiRoute));
    await options.routes(rest);
  });
  return app;
}

/** The id that problems and log lines carry, also on answers that went well. */
function nameRequests(app: FastifyInstance): void {
  app.addHook('onRequest', async (request, reply) => {
    reply.header('x-request-id', request.id);
  });
}

/** Node would answer these by itself, and not as a problem. */
function answerByOurselves(app: FastifyInstance): void {
  app.addHook('onRequest', async ({ raw }) => {
    // RFC 9112 §3.2: an HTTP/1.1 request without Host is answered with 400.
    if (raw.headers.host === undefined && raw.httpVersion === '1.1')
      throw new Problem('malformed-request', 'Send the header Host.');
  });
  // RFC 9110 §10.1.1: other expectations than 100-continue may be passed over.
  app.server.on('checkExpectation', (request, response) => app.server.emit('request', request, response));
}
