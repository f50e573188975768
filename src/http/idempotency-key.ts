/** The header Idempotency-Key: a structured-field string (RFC 9651 §3.3.3), accepted bare too. */
import type { IncomingHttpHeaders } from 'node:http';
import { Problem } from '../errors.ts';

/** Characters, counted after the quotes and escapes are taken off. */
const maxKeyLength = 255;

/**
 * The key of 1 to 255 visible ASCII characters. `"abc"` and `abc` are the same key.
 * @throws Problem missing-idempotency-key without the header, invalid-input where it can't be read.
 */
export function readIdempotencyKey(headers: IncomingHttpHeaders): string {
  const header = headers['idempotency-key'];
  if (header === undefined) {
    throw new Problem(
      'missing-idempotency-key',
      'Send the header Idempotency-Key, a new value for every record and the same one when a request is repeated.',
    );
  }
  const key = typeof header === 'string' ? unquote(header.trim()) : null;
  if (key === null || key.length > maxKeyLength || !/^[!-~]+$/.test(key)) {
    const detail = `must be one string of 1 to ${maxKeyLength} visible ASCII characters, in double quotes or bare`;
    throw new Problem('invalid-input', `The header Idempotency-Key ${detail}.`, {
      errors: [{ header: 'Idempotency-Key', detail }],
    });
  }
  return key;
}

/** Null where a quoted string is not closed, escapes what may not be escaped, or is followed by more. */
function unquote(text: string): string | null {
  if (!text.startsWith('"')) return text;
  const quoted = /^"((?:[^"\\]|\\["\\])*)"$/.exec(text);
  return quoted?.[1]?.replaceAll(/\\(["\\])/g, '$1') ?? null;
}
