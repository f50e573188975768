import { Problem } from '../../errors.ts';

/** The first request with the key still runs, in this process or in another. */
export function keyInUse(cause?: unknown): Problem {
  return new Problem('key-in-use', 'The first request with this Idempotency-Key still runs; ask again.', { cause });
}
