/** When an id was made: its first 48 bits are milliseconds since 1970 (RFC 9562, 5.7, UUID version 7). */
import type { Instant } from './instant.ts';

export function madeAt(id: string): Instant {
  const milliseconds = Number.parseInt(id.replaceAll('-', '').slice(0, 12), 16);
  return new Date(milliseconds).toISOString().replace('Z', '000Z');
}
