/** One request to keep a fact, from the caller's side: the answer to send, or the problem. */
import { Problem } from '../errors.ts';
import type { Asker } from './asker.ts';
import type { App } from './context.ts';
import { seenTo } from './record-requests.ts';
import { keyInUse } from './recording/key-in-use.ts';
import type { Asked, Refusal, Request } from './recording/request.ts';

export type FactRequest = Asked & {
  readonly asker: Asker;
  readonly sent: unknown;
  readonly route: string;
  readonly key: string | null;
  readonly checkOnly?: boolean;
};

export type FactAnswer = { readonly status: 200 | 201; readonly body: string; readonly replayed: boolean };

/** @throws Problem for everything that is not kept. */
export async function recordFact(app: App, { asker, ...asked }: FactRequest): Promise<FactAnswer> {
  const request: Request = {
    ...asked,
    checkOnly: asked.checkOnly ?? false,
    fact: app.effects.newId(),
    owner: ownerOf(asker, asked.kind),
    client: asker.client,
    subject: asker.subject,
  };
  const [outcome] = await oneAtATime(
    app,
    request,
    async () => await seenTo(app, [request], [await app.record(request)]),
  );
  if (outcome === undefined || outcome.kind === 'failed') throw outcome?.error;
  if (outcome.kind === 'kept') return { status: outcome.status, body: outcome.answer, replayed: outcome.replayed };
  throw problemOf(outcome.refusal);
}

export function problemOf({ code, detail, extra = {} }: Refusal): Problem {
  const { errors, ...members } = extra as { errors?: Problem['errors'] };
  return new Problem(code, detail, { ...(errors && { errors }), extra: members });
}

/** Its maker's, or a distributor's own. */
const containingKinds: readonly Asked['kind'][] = ['containment', 'containment-progress', 'containment-lift'];
const makersKinds: readonly Asked['kind'][] = [
  ...(['edition', 'approval', 'approval-withdrawal', 'claim-decision', 'terms'] as const),
];

/** Distributors state their own work and stock; editions, approvals of shops, decisions about claims and terms are the maker's. */
export function ownerOf({ organisations, distributor }: Asker, kind: Asked['kind']): string {
  const isMakers = makersKinds.includes(kind) || (containingKinds.includes(kind) && distributor === null);
  const owner = isMakers ? organisations.maker : organisations.distributor;
  if (owner !== null) return owner;
  throw new Problem('forbidden', isMakers ? 'The token must name its maker.' : 'The token must name its distributor.');
}

/** By what a key whose request is under way is known in this process. */
export function runningName({ owner, client, key }: Request): string | null {
  return key === null ? null : `${owner} ${client} ${key}`;
}

/** A key whose request still runs in this process is answered at once; one in another process waits for the row. */
async function oneAtATime<T>({ running }: App, request: Request, work: () => Promise<T>): Promise<T> {
  const name = runningName(request);
  if (name === null) return await work();
  if (running.has(name)) throw keyInUse();
  running.add(name);
  try {
    return await work();
  } finally {
    running.delete(name);
  }
}
