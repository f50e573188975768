/** The process that load comes from. */
import { fork } from 'node:child_process';
import { once } from 'node:events';
import { join } from 'node:path';
import { quantile } from '../harness/figures.ts';
import type { Figure } from '../harness/row.ts';
import type { WriterJob } from '../peers/bare-writer.ts';
import type { Driven } from './drive.ts';
import type { HttpJob } from './http-load.ts';

export type LoadJob = HttpJob | WriterJob;
export type Done = { readonly driven: Driven } | { readonly error: string };
/** One job at a time. @throws what went wrong with it. */
export type Load = (job: LoadJob) => Promise<Driven>;

export function openLoad(): { readonly load: Load; readonly pid: number; readonly close: () => void } {
  const child = fork(join(import.meta.dirname, 'load-process.ts'), { serialization: 'advanced' });
  const asking = new AbortController();
  child.once('exit', () => asking.abort(new Error('the process that load comes from ended')));
  const load: Load = async (job) => {
    const answer = once(child, 'message', { signal: asking.signal }) as Promise<[Done]>;
    child.send(job);
    const [done] = await answer;
    if ('error' in done) throw new Error(done.error);
    return done.driven;
  };
  return { load, pid: child.pid ?? 0, close: () => child.disconnect() };
}

/** How many a second, and the p99 beside it. */
export function rateOf({ count, seconds, latencies, cpu = null }: Driven): Figure {
  return { value: count / seconds, p99: quantile(latencies, 0.99), cpu };
}

/** The p99 itself. */
export function p99Of({ latencies, cpu = null }: Driven): Figure {
  const p99 = quantile(latencies, 0.99);
  return { value: p99, p99, cpu };
}
