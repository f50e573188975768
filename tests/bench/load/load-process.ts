/** Run as a process of its own, so that whoever is measured doesn't share one with whoever asks: does one job after the other. */
import { writerLoad } from '../peers/bare-writer.ts';
import { httpLoad } from './http-load.ts';
import type { Done, LoadJob } from './load.ts';

process.on('message', (job: LoadJob) => {
  (job.kind === 'http' ? httpLoad(job) : writerLoad(job)).then(
    (driven) => process.send?.({ driven } satisfies Done),
    (error: unknown) =>
      process.send?.({ error: error instanceof Error ? (error.stack ?? error.message) : String(error) } satisfies Done),
  );
});
process.on('disconnect', () => process.exit(0));
