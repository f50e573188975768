/** Several requests of one asker, in their order, as one batch: what becomes of each is told, and none fails another. */
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { ownerOf, problemOf, runningName } from './record-fact.ts';
import { recordRequests } from './record-requests.ts';
import { keyInUse } from './recording/key-in-use.ts';
import type { Asked, Outcome, Request } from './recording/request.ts';

export type LineRequest = {
  readonly asked: Asked;
  readonly sent: unknown;
  readonly route: string;
  readonly key: string | null;
};
export type LineOutcome = Extract<Outcome, { kind: 'kept' }> | { readonly kind: 'problem'; readonly error: unknown };

/** @throws Problem where the asker can record nothing at all. */
export async function recordLines(
  app: App,
  asker: Asker,
  lines: readonly LineRequest[],
  checkOnly: boolean,
): Promise<LineOutcome[]> {
  const requests = lines.map(({ asked, sent, route, key }): Request => {
    const { client, subject } = asker;
    const frame = { fact: app.effects.newId(), owner: ownerOf(asker, asked.kind), client, subject, checkOnly };
    return { ...asked, ...frame, sent, route, key };
  });
  const names = new Set(requests.flatMap((request) => runningName(request) ?? []));
  const elsewhere = new Set([...names].filter((name) => app.running.has(name)));
  const isElsewhere = (request: Request) => elsewhere.has(runningName(request) ?? '');
  const ours = [...names].filter((name) => !elsewhere.has(name));
  for (const name of ours) app.running.add(name);
  try {
    const free = requests.filter((request) => !isElsewhere(request));
    const outcomes = await recordRequests(app, free);
    const byRequest = new Map(free.map((request, index) => [request, outcomes[index]]));
    return requests.map((request) => told(isElsewhere(request) ? undefined : byRequest.get(request)));
  } finally {
    for (const name of ours) app.running.delete(name);
  }
}

/** Without an outcome it was not tried: its key is under way elsewhere. */
function told(outcome: Outcome | undefined): LineOutcome {
  if (outcome === undefined) return { kind: 'problem', error: keyInUse() };
  switch (outcome.kind) {
    case 'kept':
      return outcome;
    case 'refused':
      return { kind: 'problem', error: problemOf(outcome.refusal) };
    case 'failed':
      return { kind: 'problem', error: outcome.error };
  }
}
