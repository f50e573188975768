/** Keeps facts, and what follows from them at once: after a correction the records behind it are judged again. */
import type { App } from './context.ts';
import { judgeFollowing } from './judge-following.ts';
import { recordAll } from './recording/record-all.ts';
import type { Outcome, Request } from './recording/request.ts';

/**
 * Outcomes in the order of the requests. A correction whose followers could not be judged has failed, although it is
 * kept: sent again with its key it is answered as before, and they are judged then.
 */
export async function recordRequests(app: App, requests: readonly Request[]): Promise<Outcome[]> {
  const outcomes = await recordAll({ ...app, pool: app.pools.recording }, requests);
  const settled: Outcome[] = [];
  for (const [index, outcome] of outcomes.entries()) settled.push(await followed(app, requests[index], outcome));
  return settled;
}

async function followed(app: App, request: Request | undefined, outcome: Outcome): Promise<Outcome> {
  if (request?.kind !== 'correction' || request.checkOnly || outcome.kind !== 'kept') return outcome;
  const { id } = JSON.parse(outcome.answer) as { id: string };
  return await judgeFollowing(app, id, request).then(
    () => outcome,
    (error: unknown) => ({ kind: 'failed', error }),
  );
}
