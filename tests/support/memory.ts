/** What a process holds. Asks ps, which every Unix has. */
import { execFile } from 'node:child_process';
import { promisify } from 'node:util';

const run = promisify(execFile);

/** Bytes of memory that the process holds. */
export async function rssOf(pid: number): Promise<number> {
  const { stdout } = await run('ps', ['-o', 'rss=', '-p', String(pid)]);
  return Number(stdout.trim()) * 1024;
}

export function megabytes(bytes: number): string {
  return `${Math.round(bytes / 1024 / 1024)} MB`;
}
