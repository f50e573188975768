/** One digest for one JSON value, however it was spelled: what a key or a registration is compared by. */
import { createHash } from 'node:crypto';
import { canonical } from './canonical.ts';

/** Lower-case hexadecimal SHA-256 over the canonical JSON. */
export function fingerprint(sent: unknown): string {
  return createHash('sha256').update(canonical(sent)).digest('hex');
}
