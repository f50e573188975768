import { setTimeout as pause } from 'node:timers/promises';
import { runningServer } from './pid-file.ts';

/** A fast stop writes a checkpoint first; on a slow disk that takes a while. */
const stoppedWithinMs = 30_000;
const quitWithinMs = 5_000;
const betweenLooksMs = 50;

/** Stops the server in order: running work is rolled back, everything is written. By force if that takes too long. */
export async function stopServer(cluster: string): Promise<void> {
  const running = runningServer(cluster);
  if (running === null) return;
  signal(running.pid, 'SIGINT');
  if (!(await gone(cluster, running.pid, stoppedWithinMs))) await killServer(cluster, running.pid);
}

/** Stops it at once. Nothing committed is lost: the next start recovers it. */
export async function killServer(cluster: string, pid: number): Promise<void> {
  signal(pid, 'SIGQUIT');
  if (await gone(cluster, pid, quitWithinMs)) return;
  signal(pid, 'SIGKILL');
  if (!(await gone(cluster, pid, quitWithinMs)))
    throw new Error(`The Postgres with process id ${pid} can't be stopped.`);
}

async function gone(cluster: string, pid: number, withinMs: number): Promise<boolean> {
  const deadline = Date.now() + withinMs;
  while (runningServer(cluster)?.pid === pid) {
    if (Date.now() > deadline) return false;
    await pause(betweenLooksMs);
  }
  return true;
}

function signal(pid: number, name: NodeJS.Signals): void {
  try {
    process.kill(pid, name);
  } catch (error) {
    // It ended between the look and the signal.
    if (!(error instanceof Error && 'code' in error && error.code === 'ESRCH')) throw error;
  }
}
