/** Keeps facts, and what follows from them at once: records that are touched by one are judged again. */

import { recordKinds } from '../core/catalogue/edition.ts';
import { lifeKinds } from '../core/records/life-bodies.ts';
import type { App } from './context.ts';
import { judgeAgain } from './judging/judge-again.ts';
import { recordAll } from './recording/record-all.ts';
import type { Outcome, Request } from './recording/request.ts';

/**
 * Outcomes in the order of the requests. A fact whose touched records could not be judged has failed, although it is
 * kept: sent again with its key it is answered as before, and they are judged then, or by the service itself a little later.
 */
export async function recordRequests(app: App, requests: readonly Request[]): Promise<Outcome[]> {
  return await seenTo(app, requests, await recordAll({ ...app, pool: app.pools.recording }, requests));
}

/** What follows from facts that are kept, each fact's on its own: one that takes long holds up no neighbour of its batch. */
export async function seenTo(app: App, requests: readonly Request[], outcomes: readonly Outcome[]): Promise<Outcome[]> {
  const settled: Outcome[] = [];
  for (const [index, outcome] of outcomes.entries()) settled.push(await judged(app, requests[index], outcome));
  return await contained(app, requests, settled);
}

async function judged(app: App, request: Request | undefined, outcome: Outcome): Promise<Outcome> {
  if (request === undefined || outcome.kind !== 'kept' || outcome.judgesAgain === null) return outcome;
  const { judgesAgain } = outcome;
  return await app
    .afterwards(() => judgeAgain(app, request.owner, judgesAgain))
    .then(
      () => outcome,
      (error: unknown) => ({ kind: 'failed', error }),
    );
}

/** What tells of work on a unit may bring it under a containment; of what a lot is, or holds, may bring in many. */
const bringing: readonly Request['kind'][] = [
  ...recordKinds,
  ...lifeKinds,
  'registration',
  'correction',
  'identity',
  'lot',
];

async function contained(app: App, requests: readonly Request[], outcomes: readonly Outcome[]): Promise<Outcome[]> {
  const came = requests.filter(
    (one, at) => outcomes[at]?.kind === 'kept' && !one.checkOnly && bringing.includes(one.kind),
  );
  if (came.length === 0) return [...outcomes];
  const failure = await app.contain(came).then(
    () => null,
    (error: unknown): Outcome => ({ kind: 'failed', error }),
  );
  return outcomes.map((outcome, at) => {
    const request = requests[at];
    return failure !== null && request !== undefined && came.includes(request) ? failure : outcome;
  });
}
