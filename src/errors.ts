/** The closed list of codes that an answer of the service may carry, each with its HTTP status and meaning, and the error that carries one. */

type Code = {
  readonly status: number;
  readonly title: string;
  /** One sentence for README's table, which a test compares with this one. */
  readonly meaning: string;
  /** Seconds, sent as Retry-After unless the thrower names another. */
  readonly retryAfter?: number;
};

const table = {
  'malformed-request': {
    status: 400,
    title: 'Malformed request',
    meaning: 'The request line, a header or the framing of the body is not valid HTTP.',
  },
  'malformed-json': {
    status: 400,
    title: 'Malformed JSON',
    meaning:
      'The body is not strict JSON in UTF-8: a syntax error, a duplicate key or a text that may not be kept; the pointer says where.',
  },
  'invalid-input': {
    status: 400,
    title: 'Invalid input',
    meaning: 'A field of the body, a parameter or a header has the wrong shape; every place is listed.',
  },
  'missing-idempotency-key': {
    status: 400,
    title: 'Idempotency-Key missing',
    meaning: 'A POST that records facts came without the header Idempotency-Key.',
  },
  unauthenticated: {
    status: 401,
    title: 'Not authenticated',
    meaning: 'No bearer token came with the request, or one that this service does not accept.',
  },
  forbidden: {
    status: 403,
    title: 'Forbidden',
    meaning: 'The token is good but lacks the scope that is named, or speaks for an organisation unknown here.',
  },
  'history-restricted': {
    status: 403,
    title: 'History restricted',
    meaning: "The unit is known, but another organisation's records about it are not the asker's to read.",
  },
  'not-found': {
    status: 404,
    title: 'Not found',
    meaning: 'Nothing is at this path, or nothing that the asker may see.',
  },
  'method-not-allowed': {
    status: 405,
    title: 'Method not allowed',
    meaning: 'The path exists but does not take this method; the header Allow lists those it takes.',
  },
  'request-timeout': {
    status: 408,
    title: 'Request timed out',
    meaning: 'The request did not arrive whole in time; it was not acted upon.',
  },
  'refused-by-rules': {
    status: 409,
    title: 'Refused by the rules',
    meaning: 'The record contradicts the catalogue or earlier records without saying so; every finding is listed.',
  },
  'registration-differs': {
    status: 409,
    title: 'Registered differently',
    meaning: 'The unit is registered already and with other content.',
  },
  'edition-differs': {
    status: 409,
    title: 'Edition published differently',
    meaning: 'The edition is published already and with other content; editions never change.',
  },
  'key-in-use': {
    status: 409,
    title: 'Request still running',
    meaning: 'A request with the same Idempotency-Key is still running; ask again for its answer.',
    retryAfter: 1,
  },
  'not-released': {
    status: 409,
    title: 'Not released',
    meaning: 'A certificate was asked for of a record that is held, incomplete or replaced; the detail says which.',
  },
  'no-plan': {
    status: 409,
    title: 'No such job',
    meaning: 'The unit cannot be given this function; the reason and the functions it can have are listed.',
  },
  'body-too-large': {
    status: 413,
    title: 'Body too large',
    meaning: 'The body is longer than this operation takes.',
  },
  'path-too-long': {
    status: 414,
    title: 'Path too long',
    meaning: 'A part of the path is longer than any name kept here.',
  },
  'unsupported-media-type': {
    status: 415,
    title: 'Unsupported media type',
    meaning: 'The body is not declared as application/json in UTF-8 without content coding.',
  },
  'key-reused': {
    status: 422,
    title: 'Idempotency-Key used before',
    meaning: 'The Idempotency-Key was used before with another body or for another operation.',
  },
  'edition-problems': {
    status: 422,
    title: 'Edition has problems',
    meaning: 'The edition contradicts itself or an earlier one; every problem is listed.',
  },
  'too-many-requests': {
    status: 429,
    title: 'Too many requests',
    meaning: 'The asker sent more requests than its share; wait as Retry-After says.',
    retryAfter: 10,
  },
  'headers-too-large': {
    status: 431,
    title: 'Headers too large',
    meaning: 'The headers are longer than the service takes.',
  },
  internal: {
    status: 500,
    title: 'Internal error',
    meaning: 'The service failed in a way it should not; quote the request id to its operator.',
  },
  busy: {
    status: 503,
    title: 'Busy',
    meaning:
      'The service has more to do than it can answer in time, or is stopping; the request may have been applied, so repeat it with the same key.',
    retryAfter: 1,
  },
  'database-unavailable': {
    status: 503,
    title: 'Database unavailable',
    meaning: 'The database cannot be reached; the request may have been applied, so repeat it with the same key.',
    retryAfter: 2,
  },
  'token-keys-unavailable': {
    status: 503,
    title: 'Token keys unavailable',
    meaning: "The issuer's keys, which tokens are checked with, cannot be fetched.",
    retryAfter: 5,
  },
  'not-ready': {
    status: 503,
    title: 'Not ready',
    meaning: 'A check of /readyz or /startupz failed; which one is listed.',
    retryAfter: 1,
  },
} as const satisfies Record<string, Code>;

export type ProblemCode = keyof typeof table;

export const problemCodes: Readonly<Record<ProblemCode, Code>> = deepFreeze(table);

/** Where an input is wrong: a JSON pointer into the body as sent, a parameter of path or query, or a header. */
export type InputError =
  | { readonly pointer: string; readonly detail: string }
  | { readonly parameter: string; readonly detail: string }
  | { readonly header: string; readonly detail: string };

export type ProblemMore = {
  readonly errors?: readonly InputError[];
  /** Members of the answer beside the standard ones, such as `findings`. */
  readonly extra?: Readonly<Record<string, unknown>>;
  readonly headers?: Readonly<Record<string, string>>;
  readonly cause?: unknown;
};

/** An outcome that the caller is told of. `detail` says what to do and names the place; it never holds a secret or SQL. */
export class Problem extends Error {
  readonly code: ProblemCode;
  readonly detail: string;
  readonly errors: readonly InputError[] | undefined;
  readonly extra: Readonly<Record<string, unknown>> | undefined;
  readonly headers: Readonly<Record<string, string>> | undefined;

  constructor(code: ProblemCode, detail: string, more: ProblemMore = {}) {
    super(`${code}: ${detail}`, more.cause === undefined ? undefined : { cause: more.cause });
    this.name = 'Problem';
    this.code = code;
    this.detail = detail;
    this.errors = more.errors;
    this.extra = more.extra;
    this.headers = more.headers;
  }
}

function deepFreeze<T extends Record<string, Code>>(codes: T): Readonly<T> {
  for (const code of Object.values(codes)) Object.freeze(code);
  return Object.freeze(codes);
}
