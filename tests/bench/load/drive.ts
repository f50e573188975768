/** Work on many connections at once, and how long each piece of it took. */
import { setTimeout as pause } from 'node:timers/promises';
import type { Cpu } from '../ground/cpu.ts';

export type Task = () => Promise<void>;
export type Driven = {
  readonly count: number;
  readonly seconds: number;
  /** Milliseconds; at a rate, from when each was due, so that what had to wait for a slow one before it counts as slow too. */
  readonly latencies: readonly number[];
  /** Of one task, where it was measured. */
  readonly cpu?: Cpu | null;
};

/** A list for each connection, done in order. With a rate (tasks a second, of all together) none begins before it is due. */
export async function drive(lists: readonly (readonly Task[])[], rate: number | null): Promise<Driven> {
  const latencies: number[] = [];
  const begun = performance.now();
  await Promise.all(
    lists.map(async (tasks, connection) => {
      for (const [nth, task] of tasks.entries()) {
        const due = rate === null ? performance.now() : begun + ((nth * lists.length + connection) / rate) * 1000;
        const early = due - performance.now();
        if (early > 0) await pause(early);
        await task();
        latencies.push(performance.now() - due);
      }
    }),
  );
  return { count: latencies.length, seconds: (performance.now() - begun) / 1000, latencies };
}
