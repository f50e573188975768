/** Keeps facts, and what follows from them at once: records that are touched by one are judged again. */
import type { App } from './context.ts';
import { judgeAgain } from './judging/judge-again.ts';
import { recordAll } from './recording/record-all.ts';
import type { Outcome, Request } from './recording/request.ts';

/**
 * Outcomes in the order of the requests. A fact whose touched records could not be judged has failed, although it is
 * kept: sent again with its key it is answered as before, and they are judged then, or by the service itself a little later.
 */
export async function recordRequests(app: App, requests: readonly Request[]): Promise<Outcome[]> {
  const outcomes = await recordAll({ ...app, pool: app.pools.recording }, requests);
  const settled: Outcome[] = [];
  for (const [index, outcome] of outcomes.entries()) settled.push(await judged(app, requests[index], outcome));
  return settled;
}

async function judged(app: App, request: Request | undefined, outcome: Outcome): Promise<Outcome> {
  if (request === undefined || outcome.kind !== 'kept' || outcome.judgesAgain === null) return outcome;
  return await judgeAgain(app, request.owner, outcome.judgesAgain).then(
    () => outcome,
    (error: unknown) => ({ kind: 'failed', error }),
  );
}
