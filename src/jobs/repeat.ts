/** A job that runs over and over in the background, one run at a time. */
import type { Logger } from 'pino';

export type Job = {
  readonly name: string;
  readonly everyMs: number;
  /** One bounded run. What it throws is logged, and tried again in the next. */
  readonly run: () => Promise<void>;
};

/** Runs it at once, and again so long after each end. @returns what ends it, when a run that is under way is over. */
export function repeat({ name, everyMs, run }: Job, logger: Logger): () => Promise<void> {
  const ended = new AbortController();
  const loop = async (): Promise<void> => {
    while (!ended.signal.aborted) {
      await run().catch((err: unknown) => logger.warn({ err, job: name }, 'a job failed and will be tried again'));
      await pause(everyMs, ended.signal);
    }
  };
  const over = loop();
  return async () => {
    ended.abort();
    await over;
  };
}

function pause(ms: number, signal: AbortSignal): Promise<void> {
  if (signal.aborted) return Promise.resolve();
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    signal.addEventListener('abort', () => {
      clearTimeout(timer);
      resolve();
    });
  });
}
