/** Processor time that processes have taken, as Linux counts it; what is asked of a machine that doesn't is null. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';

/** Milliseconds: of the service or a peer, of Postgres with all its processes, and of the process that load comes from. */
export type Cpu = { readonly service: number; readonly postgres: number; readonly load: number };

/** Linux counts in hundredths of a second, whatever its clock. */
const msOfTick = 10;

type Stat = { readonly parent: number; readonly own: number; readonly ofEnded: number };

/** What began with us and is neither load nor Postgres is the service or a peer. */
export function cpuSoFar({ postmaster, load }: { readonly postmaster: number; readonly load: number }): Cpu | null {
  if (!existsSync('/proc/self/stat')) return null;
  const all = readdirSync('/proc').flatMap((name) => {
    const stat = /^\d+$/.test(name) ? statOf(Number(name)) : null;
    return stat === null ? [] : [{ pid: Number(name), ...stat }];
  });
  const sum = (some: readonly Stat[]) => some.reduce((total, { own }) => total + own, 0) * msOfTick;
  const server = all.find(({ pid }) => pid === postmaster);
  return {
    service: sum(all.filter(({ pid, parent }) => parent === process.pid && pid !== load && pid !== postmaster)),
    postgres:
      sum(all.filter(({ pid, parent }) => pid === postmaster || parent === postmaster)) +
      (server?.ofEnded ?? 0) * msOfTick,
    load: sum(all.filter(({ pid }) => pid === load)),
  };
}

/** The process that a process comes from. */
export function parentOf(pid: number): number | null {
  return statOf(pid)?.parent ?? null;
}

export function cpuBetween(before: Cpu | null, after: Cpu | null, answers: number): Cpu | null {
  if (before === null || after === null || answers === 0) return null;
  const of = (name: keyof Cpu) => (after[name] - before[name]) / answers;
  return { service: of('service'), postgres: of('postgres'), load: of('load') };
}

/** proc_pid_stat(5): state, ppid, … utime, stime, cutime, cstime; the name before them may hold anything. */
function statOf(pid: number): Stat | null {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, 'utf8');
    const fields = text
      .slice(text.lastIndexOf(')') + 2)
      .split(' ')
      .map(Number);
    const [parent = 0, user = 0, system = 0, endedUser = 0, endedSystem = 0] = [1, 11, 12, 13, 14].map(
      (at) => fields[at],
    );
    return { parent, own: user + system, ofEnded: endedUser + endedSystem };
  } catch {
    return null;
  }
}
