import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

/** What the server wrote into its cluster's postmaster.pid. The port is null until it has got that far. */
export type PidFile = { readonly pid: number; readonly port: number | null; readonly text: string };

export function readPidFile(cluster: string): PidFile | null {
  let text: string;
  try {
    text = readFileSync(pidFileOf(cluster), 'utf8');
  } catch {
    return null;
  }
  const [pid, , , port] = text.split('\n').map(Number);
  if (pid === undefined || !Number.isInteger(pid) || pid <= 0) return null;
  return { pid, port: port !== undefined && Number.isInteger(port) && port > 0 ? port : null, text };
}

export function pidFileOf(cluster: string): string {
  return join(cluster, 'postmaster.pid');
}

/**
 * The server that runs on this cluster, or null. A process id alone proves nothing: after a power loss or in a
 * container another process may have it by now, so its command line must name Postgres and this cluster.
 */
export function runningServer(cluster: string): PidFile | null {
  const file = readPidFile(cluster);
  if (file === null) return null;
  const command = commandOf(file.pid);
  return command.includes('postgres') && command.includes(cluster) ? file : null;
}

/** The command line of a process; empty when there is none, or when it is dead and only waits to be collected. */
export function commandOf(pid: number): string {
  if (existsSync('/proc/self/cmdline')) {
    try {
      return readFileSync(`/proc/${pid}/cmdline`, 'utf8').replaceAll('\0', ' ').trim();
    } catch {
      return '';
    }
  }
  return spawnSync('ps', ['-o', 'command=', '-p', String(pid)], { encoding: 'utf8' }).stdout?.trim() ?? '';
}
