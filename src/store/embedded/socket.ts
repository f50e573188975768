/**
 * Beside its port the server listens on a socket in its own cluster, a folder that nobody else may enter: asking
 * over it costs both sides less than over the loopback.
 */
import { existsSync } from 'node:fs';
import { join } from 'node:path';

/** Bytes: what the shortest of the systems takes for the name of a socket. */
const longest = 103;
const nameOf = (port: number) => `.s.PGSQL.${port}`;

/** The setting `unix_socket_directories`; '' where the system has none, or takes no name that long. */
export function socketSetting(cluster: string): string {
  const isTaken = process.platform !== 'win32' && Buffer.byteLength(join(cluster, nameOf(65_535))) <= longest;
  return isTaken && !cluster.includes('"') ? `"${cluster}"` : '';
}

/** What of a URL says that the server is asked over its socket; '' where it was started without. */
export function overSocket(cluster: string, port: number): string {
  return existsSync(join(cluster, nameOf(port))) ? `?host=${encodeURIComponent(cluster)}` : '';
}
