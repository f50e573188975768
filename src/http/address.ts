/** Where the service was reached, as the request says: for what is printed and followed later. */
import type { FastifyRequest } from 'fastify';
import { Problem } from '../errors.ts';

/** RFC 3986 section 3.2.2, a name or an address, and a port. No name is longer than 253 signs (RFC 1035). */
const host = /^(?:[A-Za-z0-9](?:[A-Za-z0-9._-]{0,252})|\[[0-9A-Fa-f:.]{2,45}\])(?::\d{1,5})?$/;

/** @throws Problem invalid-input where the request names no host that could be followed */
export function addressOf(request: FastifyRequest, path: string): string {
  if (!host.test(request.host))
    throw new Problem(
      'invalid-input',
      'The page carries the address at which it is checked, and the request names none.',
      {
        errors: [{ header: 'host', detail: 'name the host that was asked, such as records.example or 127.0.0.1:8080' }],
      },
    );
  return `${request.protocol}://${request.host}${path}`;
}
