/** The one way that a body comes in: strict JSON in UTF-8. */
import type { FastifyInstance } from 'fastify';
import { parseStrict } from '../core/json/parse-strict.ts';
import { Problem } from '../errors.ts';

declare module 'fastify' {
  interface FastifyRequest {
    /** The body as sent, before validation fills defaults; what keys and facts are made of. */
    sent: unknown;
  }
}

/** Takes application/json only, whatever its spelling, and keeps the parsed body as `request.sent`. */
export function takeJsonOnly(app: FastifyInstance): void {
  app.decorateRequest('sent', undefined);
  app.removeAllContentTypeParsers();
  app.addContentTypeParser<Buffer>('application/json', { parseAs: 'buffer' }, (request, bytes, done) => {
    try {
      requireUtf8Json(request.headers['content-type'], request.headers['content-encoding']);
      request.sent = parseBody(bytes);
      done(null, request.sent);
    } catch (error) {
      done(error as Error);
    }
  });
}

/** RFC 9110 §8.3.1: type, subtype, parameter names and charset values compare without case, and a value may be quoted. */
const utf8Json = /^application\/json[ \t]*(?:;[ \t]*charset=(?:utf-8|"utf-8")[ \t]*)?;?$/i;

function requireUtf8Json(type: string | undefined, coding: string | undefined): void {
  if (type === undefined || !utf8Json.test(type.trim())) {
    throw new Problem('unsupported-media-type', 'Send the body as application/json, in UTF-8 if a charset is named.');
  }
  if (coding !== undefined && coding.toLowerCase() !== 'identity') {
    throw new Problem('unsupported-media-type', 'Send the body without Content-Encoding.');
  }
}

function parseBody(bytes: Buffer): unknown {
  const parsed = parseStrict(decode(bytes));
  if ('problem' in parsed) {
    throw new Problem('malformed-json', 'The body is not strict JSON.', { errors: [parsed.problem] });
  }
  return parsed.value;
}

function decode(bytes: Buffer): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch (cause) {
    const errors = [{ pointer: '', detail: 'The body is not valid UTF-8.' }];
    throw new Problem('malformed-json', 'The body is not strict JSON.', { errors, cause });
  }
}
